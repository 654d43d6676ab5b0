// Steps of a stacked change that lead away and back.
#pragma once

#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// `now`, stacked on `before`, writes a chord on the root that is written there, where `before` had another
/// root: Dm7b5, Fm6, D7. Nobody hears it by way of Fm6: it is the written chord with other tones on its root,
/// and a rule for that asks what the melody says to it.
[[nodiscard]] bool leads_back(const rules::Chart& written, const rules::Placement& before,
                              const rules::Placement& now);

}  // namespace relead::reharm
