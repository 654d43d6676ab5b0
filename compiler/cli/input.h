// Reading a source text for a command, and saying so when it cannot be read.
#pragma once

#include <optional>
#include <string>

#include "cli/exit_code.h"
#include "cli/streams.h"
#include "text/source.h"

namespace relead::cli {

struct Input {
    std::optional<text::Source> source;  ///< absent when the text cannot be used
    std::optional<text::Source> shown;   ///< what messages show: the source, or a refused text made readable
    ExitCode code = ExitCode::clean;     ///< not clean when there is no source
    Diagnostics diagnostics;
};

/// Reads a file (or "-") as a strict UTF-8 text. Diagnostics are kept, not printed.
[[nodiscard]] Input open_text(const std::string& path, Streams& streams, std::uint32_t index = 0);

/// The same, with its diagnostics printed.
[[nodiscard]] Input open_text_or_say(const std::string& path, Streams& streams, std::uint32_t index = 0);

}  // namespace relead::cli
