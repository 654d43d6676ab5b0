// Names of new chords where two changes stand beside each other.
#pragma once

#include <vector>

#include "reharm/judge.h"

namespace relead::reharm {

/// Each change was spelled against the written chords around it. In a version a new chord may fall a fifth to
/// another new one: both are then named on one side of the line of fifths (F#7 B7, not Gb7 B7), and what
/// their changes say about them follows. No sound changes.
void respell_together(const Situation& situation, std::vector<Judged>& version);

}  // namespace relead::reharm
