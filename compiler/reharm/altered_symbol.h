// The short symbol for a dominant that has more than one altered tension.
#pragma once

#include "reharm/melody_fit.h"

namespace relead::reharm {

/// 7alt for a dominant with two or more of b9, #9 and b13 (7b9b13, 7b9#9) or one of them beside #11: that is
/// what players write and read. The chord as it is when it alters less, or when a melody note over it would
/// fit it and not the altered chord (common practice, no source).
[[nodiscard]] theory::Chord as_players_write(const rules::Melodies& melodies, int section,
                                             const TimedChord& chord);

}  // namespace relead::reharm
