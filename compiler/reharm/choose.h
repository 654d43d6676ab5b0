// Which placements a version takes.
#pragma once

#include <vector>

#include <relead/outcome.h>

#include "reharm/judge.h"
#include "reharm/pool.h"

namespace relead::reharm {

struct Chosen {
    std::vector<Judged> placements;  ///< in order, not overlapping
    Diagnostics diagnostics;         ///< what the plan asks to take and cannot have
};

/// First what the plan asks for, then the best one after the other, as long as the plan has room. Every
/// placement is judged again among those taken before; locks, holds and budgets are never broken.
[[nodiscard]] Chosen choose(const Situation& situation, const Pool& pool);

/// A placement's verdict among the others of a version: arrivals and departures with its real neighbours.
void judge_in_version(const Situation& situation, const rules::MadeChart& made, std::vector<Judged>& version);

}  // namespace relead::reharm
