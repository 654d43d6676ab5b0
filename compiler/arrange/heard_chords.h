// The chords of a performance one after the other, at the moments at which they are heard.
#pragma once

#include <vector>

#include "arrange/band_bars.h"

namespace relead::arrange {

struct HeardChord {
    const tune::ChordEvent* event = nullptr;
    std::size_t bar = 0;  ///< index into BandBars::bars
    Time at;              ///< where it is written
    Time heard;           ///< with its push
    Time end;             ///< written end
    bool begins = true;   ///< false: the same chord sounds on from the bar before
    unsigned melody = 0;  ///< pitch classes that the melody sounds over it
};

/// Chords of the changes, pickups left out.
[[nodiscard]] std::vector<HeardChord> heard_chords(const BandBars& bars);

/// What is written over a chord and what the band hears: an eighth or a quarter early, an eighth late.
[[nodiscard]] Time push_of(const tune::ChordEvent& chord);

}  // namespace relead::arrange
