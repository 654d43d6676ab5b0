// Where what a soloist superimposes resolves: the reason of a change that the band does not play.
#pragma once

#include <string>

#include "reharm/judge.h"
#include "reharm/reason.h"

namespace relead::reharm {

/// "Db7 leads to C6: Db falls to C and Ab to G.": each note of a new chord that the band's chord under it
/// has not, and its nearest step in the chord that the soloist plays next (common practice, no source).
/// What a rule says of roots and of chords that leave is not true over a band that plays on. Empty where
/// no such note has a step to go.
[[nodiscard]] std::string where_it_goes(const rules::Chart& chart, const rules::Placement& placement,
                                        const Neighbours& around);

/// What a player is told: the words of the rules; over a band that plays on where the notes go, unless the
/// rule is for soloists alone and speaks of that itself.
[[nodiscard]] std::string reason_for(const Situation& situation, const rules::Placement& placement,
                                     const Neighbours& around);

}  // namespace relead::reharm
