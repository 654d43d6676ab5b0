// Places where listeners find their way: the first chord of a section, the last home chord and what leads to
// it.
#pragma once

#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// True when `now` can stand where `old` is written and do the same: the same root in the same class, a
/// dominant with or without its suspension or from a tritone away, a diminished chord that stands for its
/// dominant, the relative, the third degree for the tonic of `key`.
[[nodiscard]] bool stands_for(const theory::Chord& old, const theory::Chord& now, const theory::Key& key);

/// How many such places of the chart get a chord of another function from the placement.
[[nodiscard]] int places_lost(const rules::Chart& chart, const rules::Placement& placement);

}  // namespace relead::reharm
