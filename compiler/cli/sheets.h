// What the commands that write sheets have in common.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/files.h"
#include "cli/streams.h"
#include "theory/instrument.h"

namespace relead::cli {

/// The instruments of `--for`; nothing (and a usage message printed) when one is unknown.
[[nodiscard]] std::optional<std::vector<const theory::Instrument*>> read_instruments(
    const std::vector<std::string>& words, Streams& streams);

/// File names begin with the tune's file name: "ferry" for "tunes/ferry.tune", "tune" for standard input.
[[nodiscard]] std::string stem_of(const std::string& path);

/// "wrote out/ferry.mild.tune", one file a line after an empty line.
void print_written(const std::vector<Written>& written, Streams& streams);

}  // namespace relead::cli
