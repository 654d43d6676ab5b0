// What a plan asks for: `take tritone at A:4` leaves only that change there, when it can be had.
#pragma once

#include "reharm/lattice.h"
#include "reharm/pool.h"

namespace relead::reharm {

/// Demands of the lattice what the plan takes, one after the other. What cannot stand there, or not together
/// with what was taken before, is given up with a warning that says why.
void take_demands(const Situation& situation, const Pool& pool, TuneLattice& lattice, std::size_t node_limit,
                  Diagnostics& diagnostics);

}  // namespace relead::reharm
