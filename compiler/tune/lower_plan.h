// Plans and the running line, word for word; what they name is checked by check_plans.h.
#pragma once

#include "syntax/tune_tree.h"
#include "tune/tune.h"

namespace relead::tune {

[[nodiscard]] Address lower_address(const syntax::Address& tree);
[[nodiscard]] Plan lower_plan(const syntax::Plan& tree);
[[nodiscard]] std::vector<RunningItem> lower_running(const syntax::RunningLine& tree);

}  // namespace relead::tune
