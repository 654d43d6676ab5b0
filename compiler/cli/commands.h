// The commands, one file each. Each reads its input, prints to the streams and returns its exit code.
#pragma once

#include "cli/exit_code.h"
#include "cli/options.h"
#include "cli/streams.h"

namespace relead::cli {

[[nodiscard]] ExitCode run(const CheckOptions& options, Streams& streams);
[[nodiscard]] ExitCode run(const TidyOptions& options, Streams& streams);
[[nodiscard]] ExitCode run(const ReharmOptions& options, Streams& streams);
[[nodiscard]] ExitCode run(const CompareOptions& options, Streams& streams);
[[nodiscard]] ExitCode run(const ExplainOptions& options, Streams& streams);
[[nodiscard]] ExitCode run(const SpotOptions& options, Streams& streams);
[[nodiscard]] ExitCode run(const RulesOptions& options, Streams& streams);

}  // namespace relead::cli
