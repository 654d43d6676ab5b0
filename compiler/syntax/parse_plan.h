// The `plan` line and the lines of a plan.
#pragma once

#include "syntax/line_parser.h"

namespace relead::syntax {

/// Rest of a `plan` line: `"mild" for band on head`. A plan without a name gets an empty one.
[[nodiscard]] Plan parse_plan_head(LineParser& line);

/// One whole line of a plan, from its first word; nothing when it cannot be used.
[[nodiscard]] std::optional<PlanLine> parse_plan_line(LineParser& line);

/// True for kinds that may stand in a plan only once.
[[nodiscard]] bool stands_once(PlanLine::Kind kind);
/// How the line begins: "at most".
[[nodiscard]] std::string_view plan_phrase(PlanLine::Kind kind);

}  // namespace relead::syntax
