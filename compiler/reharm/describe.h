// Changes and options as values for people: places, motions, reasons.
#pragma once

#include <string>
#include <vector>

#include "reharm/judge.h"
#include "reharm/version.h"

namespace relead::reharm {

/// Changes of a version whose placements are `version`, in the order of the text.
[[nodiscard]] std::vector<Change> describe_changes(const Situation& situation, const rules::MadeChart& made,
                                                   const std::vector<Judged>& version);

}  // namespace relead::reharm
