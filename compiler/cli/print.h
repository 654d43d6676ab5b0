// Printing diagnostics for a command.
#pragma once

#include <span>

#include <relead/outcome.h>

#include "cli/exit_code.h"
#include "cli/streams.h"
#include "text/source.h"

namespace relead::cli {

/// To the error stream, with source lines; returns the exit code that they call for.
ExitCode print_diagnostics(const Diagnostics& diagnostics, std::span<const text::Source> sources,
                           Streams& streams);

/// io when a diagnostic is about a file, input when one is an error, else clean.
[[nodiscard]] ExitCode exit_code_of(const Diagnostics& diagnostics);

}  // namespace relead::cli
