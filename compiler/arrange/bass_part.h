// What the bass plays: the line of the feel, written figures as they are written.
#pragma once

#include <vector>

#include "arrange/heard_chords.h"
#include "score/performance.h"

namespace relead::arrange {

/// Bars with a `bass` row are played as written (concert pitch, as everywhere in a tune).
/// Pushed chords come early in the even styles; a walking or two-feel line keeps its beats.
[[nodiscard]] std::vector<score::SoundingNote> bass_part(const BandBars& bars,
                                                         const std::vector<HeardChord>& chords);

}  // namespace relead::arrange
