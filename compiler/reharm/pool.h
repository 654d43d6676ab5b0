// Everything that could stand somewhere: all placements that rules give, one on another up to a depth,
// judged against the written chart around them.
#pragma once

#include <vector>

#include "reharm/judge.h"

namespace relead::reharm {

struct PoolWish {
    int depth = 2;
    bool explain = false;  ///< also what does not fit, with its objections as refusals
    int first = 0;         ///< only placements that touch written spots [first, last)
    int last = -1;         ///< -1 = to the end
};

struct Pool {
    std::vector<Judged> placements;  ///< by place, then cost, then rule
    int built = 0;                   ///< before equal ones were merged
    bool depth_reached = false;      ///< something more could have been stacked
};

[[nodiscard]] Pool build_pool(const Situation& situation, const PoolWish& wish);
/// The order in which equals are settled: cost, level, depth, rule, start. Never an absolute pitch.
[[nodiscard]] bool better(const Judged& a, const Judged& b);

}  // namespace relead::reharm
