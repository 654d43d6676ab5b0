// Light time-keeping: the pattern of the feel, hits with the band, sticks in the count-in.
#pragma once

#include <vector>

#include "arrange/band_bars.h"
#include "score/performance.h"

namespace relead::arrange {

[[nodiscard]] std::vector<score::SoundingNote> drum_part(const BandBars& bars);

/// The beats that are counted: dotted ones in 6/8, the groups of 7/8 2+2+3.
[[nodiscard]] std::vector<Time> counted_beats(const tune::Meter& meter);

}  // namespace relead::arrange
