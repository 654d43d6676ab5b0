// Ties and accidentals of a part that stands complete.
#pragma once

#include <functional>
#include <vector>

#include "score/measure.h"

namespace relead::arrange {

/// Joins each `tie_begins` of the first voice to the next note when that has the same pitch; takes the
/// tie away otherwise. `follows(i)`: measure i + 1 may be played right after measure i.
void join_ties(std::vector<score::Measure>& measures, const std::function<bool(std::size_t)>& follows);

/// Signs against the key signature, each staff by itself: the first change in a bar, its cancelling, a
/// reminder after the bar line or in another octave; none on the second note of a tie.
void set_accidentals(std::vector<score::Measure>& measures);

}  // namespace relead::arrange
