// How much of a tune changes. Without a number in the plan, costs get a weight per changed beat, so that each
// version changes its share.
#pragma once

#include "rules/chart.h"

namespace relead::reharm {

/// Shares of the beats of a chorus, in percent.
struct Dose {
    int least = 15;
    int most = 25;
};
/// Of version `number` (0 = the first): 15–25, 25–40, 40–60; half of it where the chords are dense already.
[[nodiscard]] Dose dose_of(int number, const rules::Chart& chart);

}  // namespace relead::reharm
