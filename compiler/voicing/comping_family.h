// The kinds of chords that share comping shapes: a column of grammar/comping-voicings.txt.
#pragma once

#include "theory/chord.h"

namespace relead::voicing {

enum class CompingFamily { major, minor, dominant, suspended, half_diminished, diminished, triad, power };

/// Chords with a seventh or sixth go by their third; those with neither are triads, with or without a
/// ninth. Precondition: not N.C.
[[nodiscard]] CompingFamily comping_family(const theory::Chord& chord);

}  // namespace relead::voicing
