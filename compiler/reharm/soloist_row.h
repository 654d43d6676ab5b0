// What the author writes for the soloist over the band's chords: a change of the band keeps with it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// What the author writes for the soloist over the bar of a spot of the written chart; null where it is open.
[[nodiscard]] const std::vector<tune::ChordEvent>* soloist_over(const rules::Chart& chart,
                                                                const rules::Spot& spot);

/// A chord of the tune's `soloist` row was chosen over the written chord. Where a new chord has fewer of its
/// tones than the written one has, the two lines fall apart (common practice, no source). In a sentence.
[[nodiscard]] std::optional<std::string> leaves_soloist_alone(const rules::Chart& chart,
                                                              const rules::Placement& placement);

}  // namespace relead::reharm
