// The weights of grammar/cost-terms.txt, and sums that remember their parts.
#pragma once

#include <string_view>
#include <vector>

#include "reharm/verdict.h"

namespace relead::reharm {

/// The value of a term. Precondition: the table has it (a test reads every name used).
[[nodiscard]] int weight(std::string_view term);

struct CostTermInfo {
    std::string_view name;
    int value = 0;
    std::string_view per;
    std::string_view meaning;
};
[[nodiscard]] std::vector<CostTermInfo> cost_terms();

/// What one place costs that gets another function (kept_places) in a version: the whole weight up to level
/// 3, above it a quarter. Far outside it is an exception, not a sin.
[[nodiscard]] int other_function(int ceiling);
/// Up to level 3 a version stays inside: these places are kept and no dominant that slides carries a held
/// flat ninth. Further outside either may be.
[[nodiscard]] bool stays_inside(int ceiling);

/// Adds `times` of a term to a verdict; nothing is noted for 0 times.
void charge(Verdict& verdict, std::string_view term, int times = 1);

}  // namespace relead::reharm
