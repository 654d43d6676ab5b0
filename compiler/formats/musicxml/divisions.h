// Divisions of a quarter note: MusicXML counts durations in whole numbers.
#pragma once

#include "score/score.h"

namespace relead::formats {

/// The least multiple of 12 in which every time and length of the score is a whole number.
[[nodiscard]] int divisions_of(const score::Score& score);

}  // namespace relead::formats
