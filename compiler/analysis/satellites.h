// Chords that only colour the one before them: they hang on it and take no part in the tree.
#pragma once

#include <vector>

#include "analysis/heard.h"

namespace relead::analysis {

/// For each chord the chord that it colours, or -1: a minor chord whose seventh moves (m, m(maj7), m7, m6;
/// the second shade of a bar colours its first), a major chord whose seventh falls to the sixth (maj7, 6), a
/// diminished chord a half step above a chord that then returns or goes to its fifth (common tone: IV #iv°
/// I), and a bar that repeats the one before (`%`) with one chord.
[[nodiscard]] std::vector<int> satellites(const Chorus& chorus);

}  // namespace relead::analysis
