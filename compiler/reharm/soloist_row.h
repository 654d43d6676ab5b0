// What the author writes for the soloist over the band's chords: a change of the band keeps with it.
#pragma once

#include <optional>
#include <string>

#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// A chord of the tune's `soloist` row was chosen over the written chord. Where a new chord has fewer of its
/// tones than the written one has, the two lines fall apart (common practice, no source). In a sentence.
[[nodiscard]] std::optional<std::string> leaves_soloist_alone(const rules::Chart& chart,
                                                              const rules::Placement& placement);

}  // namespace relead::reharm
