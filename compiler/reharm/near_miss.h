// How far a rule is from fitting: the numbers of grammar/near-misses.txt.
#pragma once

#include <string_view>
#include <vector>

#include "rules/match.h"

namespace relead::reharm {

/// More the less the objection tells a player; above 0. Precondition: the table has it (a test reads all).
[[nodiscard]] int far_off(rules::Objection::Kind objection);

/// Every word of the table, in its order.
[[nodiscard]] std::vector<std::string_view> near_misses();

}  // namespace relead::reharm
