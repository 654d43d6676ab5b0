// Symbols that players read at sight: the short one for a dominant with more than one altered tension, and
// which symbols nobody reads.
#pragma once

#include <optional>
#include <string>

#include "reharm/melody_fit.h"

namespace relead::reharm {

/// A dominant that falls a half step (a substitute) or rises a whole step (backdoor) into the chord after it.
/// It stands for another dominant, and its colours are 9, #11 and 13: its altered tensions are not the
/// altered scale (common practice, no source).
[[nodiscard]] bool slides(const theory::Chord& from, const theory::Chord& to);

/// 7alt for a dominant with two or more of b9, #9 and b13 (7b9b13, 7b9#9) or one of them beside #11: that is
/// what players write and read. The chord as it is when it alters less, when it slides into `following` (null
/// when nothing follows), or when a melody note over it would fit it and not the altered chord (common
/// practice, no source).
[[nodiscard]] theory::Chord as_players_write(const rules::Melodies& melodies, int section,
                                             const TimedChord& chord, const theory::Chord* following);

/// Why nobody would read this new chord at sight before `following`, in a sentence; nothing when they would.
/// 7alt that slides; a dominant with a colour beyond the flat ninth, or with the flat ninth and another one,
/// over another bass (B7#11/D#, G13b9/B); one with the flat ninth over its third (A7b9/C#, which is C#dim7);
/// a dominant, suspended or diminished chord with tensions that no symbol of the chord table has
/// (C#dim7(b13)).
[[nodiscard]] std::optional<std::string> unreadable(const theory::Chord& chord,
                                                    const theory::Chord* following);

}  // namespace relead::reharm
