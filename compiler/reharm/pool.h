// Everything that could stand somewhere: all placements that rules give, one on another up to a depth. For
// the search what stands around them is left open; for `options` they are judged in the written chart.
#pragma once

#include <string>
#include <vector>

#include "reharm/judge.h"

namespace relead::reharm {

struct PoolWish {
    int depth = 2;
    int alternatives = 64;  ///< kept per starting chord
    bool explain = false;   ///< contexts asked of the written chart; what does not fit is kept, with refusals
    int first = 0;          ///< only placements that touch written spots [first, last)
    int last = -1;          ///< -1 = to the end
};

struct Pool {
    std::vector<Judged> placements;  ///< by place, then cost, then rule; boundaries judged only in `explain`
    int built = 0;                   ///< different placements, before any was dropped
    int dropped = 0;
    bool depth_reached = false;  ///< rules could have been stacked further
    /// What was cut: "12 dropped at B:5", "substitutions stacked two deep at most".
    std::vector<std::string> notes;
};

[[nodiscard]] Pool build_pool(const Situation& situation, const PoolWish& wish);
/// Adds what another function at a section start, at the last home chord or before it costs. Where versions
/// are chosen by cost alone nothing else holds these places.
void charge_lost_places(const Situation& situation, Pool& pool);
/// The order in which equals are settled: cost, level, depth, rule, start. Never an absolute pitch.
[[nodiscard]] bool better(const Judged& a, const Judged& b);

}  // namespace relead::reharm
