// What the flags of the chords say together: one thing for a turnaround of four chords, not four.
#pragma once

#include <vector>

#include "report/explanation.h"

namespace relead::report {

/// `facts` and `chords` belong together, one of each per listed chord. Stretches (turnaround, line cliché,
/// pedal, planing, modal) end where their root, bass or sound gives way to another one's; a turnaround
/// holds two bars of one section. What a numeral says by itself is left out: home ii7, plain dominants.
[[nodiscard]] std::vector<Recognised> recognise(const tune::Tune& tune,
                                                const std::vector<const analysis::ChordFact*>& facts,
                                                const std::vector<ExplainedChord>& chords);

}  // namespace relead::report
