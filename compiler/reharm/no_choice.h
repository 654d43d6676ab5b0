// Why a tune stays as it is under a plan.
#pragma once

#include <vector>

#include <relead/outcome.h>

#include "reharm/judge.h"
#include "reharm/pool.h"
#include "reharm/version.h"

namespace relead::reharm {

/// What is said where no version changes anything: that everything is held, that no rule finds its chords,
/// or that nothing that rules write keeps within the plan. Empty where one does.
[[nodiscard]] Diagnostics tell_no_choice(const Situation& situation, const Pool& pool,
                                         const std::vector<Version>& versions);

}  // namespace relead::reharm
