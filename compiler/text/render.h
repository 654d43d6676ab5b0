// Diagnostics as text for a terminal: file, place, sentence, source line, carets, fixes.
// Carets stand right under wide and combining characters and tabs; very long lines are cut
// around the span. JSON is formats/json.
#pragma once

#include <span>
#include <string>

#include <relead/outcome.h>

#include "text/source.h"

namespace relead::text {

struct RenderStyle {
    bool colour = false;
    int width = 100;  ///< columns to use for the source line
};

/// "tunes/ferry.tune:12:9: error: A:7.3: A:7 holds 5 beats, the meter asks for 4. [bar-overfull]"
/// then the source line, the carets and one line per fix.
[[nodiscard]] std::string render(const Diagnostic& diagnostic, std::span<const Source> sources,
                                 const RenderStyle& style = {});
[[nodiscard]] std::string render_all(const Diagnostics& diagnostics, std::span<const Source> sources,
                                     const RenderStyle& style = {});
/// "A:7.3", "A:7", "A:pickup"; empty when there is no musical place.
[[nodiscard]] std::string to_string(const Place& place);

}  // namespace relead::text
