// What a plan asks for: `take tritone at A:4` leaves only that change there, when it can be had.
#pragma once

#include "reharm/lattice.h"
#include "reharm/pool.h"

namespace relead::reharm {

/// Puts into the pool what the plan takes and the pool left out: of the placements at a chord it keeps the
/// cheapest, and of several ways to the same chords one.
void keep_what_is_taken(const Situation& situation, const PoolWish& wish, Pool& pool);

/// Demands of the lattice what the plan takes, one after the other. What cannot stand there, or not together
/// with what was taken before, is given up with a warning that says why.
void take_demands(const Situation& situation, const Pool& pool, TuneLattice& lattice, std::size_t node_limit,
                  Diagnostics& diagnostics);

/// What the plans of a tune take and can have nowhere in a version, plan by plan; what only does not go
/// together is found when a version is made. Not of plans that are different each time, or that stack four
/// deep.
[[nodiscard]] Diagnostics denied_takes(const tune::Tune& tune, const analysis::Analysis& analysis,
                                       const rules::RuleSet& rules);

/// The plan takes this change here: nobody chose it.
[[nodiscard]] bool is_taken(const Situation& situation, const rules::Placement& placement);

}  // namespace relead::reharm
