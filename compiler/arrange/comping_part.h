// When the comping hands strike, and what.
#pragma once

#include <vector>

#include "arrange/heard_chords.h"
#include "score/performance.h"

namespace relead::arrange {

/// Patterns of the feel, bar by bar; pushes, hits, breaks and fermatas go before them. Every chord is
/// struck, but where only hits are played. A stroke an eighth or less before the next chord that is held
/// into it takes that chord.
[[nodiscard]] std::vector<score::SoundingNote> comping_part(const BandBars& bars,
                                                            const std::vector<HeardChord>& chords);

}  // namespace relead::arrange
