// Why a tune stays as it is under a plan.
#pragma once

#include <relead/outcome.h>

#include "reharm/judge.h"
#include "reharm/pool.h"

namespace relead::reharm {

/// What is said where nothing could be built: that everything is held, or that no rule fits. Empty where
/// there is something to choose from.
[[nodiscard]] Diagnostics tell_no_choice(const Situation& situation, const Pool& pool);

}  // namespace relead::reharm
