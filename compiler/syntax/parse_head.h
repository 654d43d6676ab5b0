// The lines of a tune's head; `key`, `meter` and `tempo` stand in sections too. Each function reads the
// rest of its line (the first word is gone) and gives nothing when the line says nothing usable.
#pragma once

#include "syntax/line_parser.h"

namespace relead::syntax {

[[nodiscard]] std::optional<KeyLine> parse_key(LineParser& line);
[[nodiscard]] std::optional<MeterLine> parse_meter(LineParser& line);
[[nodiscard]] std::optional<TempoLine> parse_tempo(LineParser& line);
[[nodiscard]] std::optional<FormLine> parse_form(LineParser& line);
[[nodiscard]] std::optional<RunningLine> parse_running(LineParser& line);

}  // namespace relead::syntax
