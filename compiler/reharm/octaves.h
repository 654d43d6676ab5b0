// Melody and bass that climb from a leading tone together: octaves where two voices should be heard.
#pragma once

#include <optional>
#include <string>

#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// From a new chord or into one the bass climbs a half step, and the melody makes the same step at the same
/// time: the leading tone is doubled (common practice: part writing in any handbook of harmony). In a
/// sentence.
[[nodiscard]] std::optional<std::string> doubles_leading_tone(const rules::Chart& chart,
                                                              const rules::Placement& placement);

}  // namespace relead::reharm
