// What is told of a rule that does not fit: how far off it is is data, grammar/near-misses.txt.
#pragma once

#include <compare>
#include <string_view>
#include <vector>

#include "reharm/judge.h"
#include "rules/match.h"

namespace relead::reharm {

/// More the less the objection tells a player; above 0. Precondition: the table has it (a test reads all).
[[nodiscard]] int far_off(rules::Objection::Kind objection);

/// How far a placement is from standing where it was found: what is told first compares less.
struct Miss {
    int far = 0;               ///< added up over what the rule itself misses; 0 where it fits
    std::size_t refusals = 0;  ///< of any kind
    int fifths = 0;            ///< from the local key to the tonic from which the rule was counted
    friend auto operator<=>(const Miss&, const Miss&) = default;
};
[[nodiscard]] Miss miss_of(const rules::Chart& chart, const Judged& judged);

/// Every word of the table, in its order.
[[nodiscard]] std::vector<std::string_view> near_misses();

}  // namespace relead::reharm
