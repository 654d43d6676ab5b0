// What the plan does not want: rules that it does not use, levels beyond its own, places that it holds.
#pragma once

#include <vector>

#include "reharm/judge.h"

namespace relead::reharm {

/// A place that a plan names covers a written chord.
[[nodiscard]] bool covers(const Situation& situation, const tune::Address& place, int spot);

/// In the order in which they are told.
[[nodiscard]] std::vector<Refusal> refused_by_plan(const Situation& situation,
                                                   const rules::Placement& placement);

}  // namespace relead::reharm
