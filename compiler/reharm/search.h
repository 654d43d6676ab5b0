// The search for versions: the best placements together, within all limits, and further versions that keep
// their distance from those before.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include <relead/outcome.h>

#include "reharm/judge.h"
#include "reharm/pool.h"
#include "reharm/version.h"

namespace relead::reharm {

struct SearchWish {
    int versions = 1;
    int least_difference = 0;  ///< written chords that sound differently; 0 = a quarter of them
    bool dose = true;          ///< weigh costs so that a good part of the tune changes, not all of it
    std::vector<std::string_view> left_out;  ///< terms and aims that do not count, for measuring
    std::size_t nodes = std::size_t{1} << 20U;
    std::size_t labels = 200'000;
};

/// One version: placements in order, not overlapping.
struct Found {
    std::vector<Judged> placements;
    std::int64_t cost = 0;  ///< of the placements and boundaries, over all playings; smaller is better
};

struct SearchResult {
    std::vector<Found> versions;  ///< the best first; fewer when no further one keeps its distance
    SearchReport report;
    Diagnostics diagnostics;            ///< what the plan asks to take and cannot have
    std::int64_t half_beats_heard = 0;  ///< the work of a free choice, see FreeChoice; 0 where by cost
};

/// Exact among the pool's placements unless the report says otherwise. Locks, holds, arrivals and budgets are
/// never broken; the same input gives the same versions, in all twelve keys.
[[nodiscard]] SearchResult search(const Situation& situation, const Pool& pool, const SearchWish& wish);

}  // namespace relead::reharm
