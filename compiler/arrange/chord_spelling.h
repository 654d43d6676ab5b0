// Practical spelling of chord symbols in one player's part. A transposed root keeps its strict name
// unless players would stumble over it: no double accidental; no C flat, F flat, E sharp or B sharp
// that does not belong to the key; roots a half step apart use neighbouring letters, above all where
// a dominant falls or a diminished chord rises to its goal (concert Cm7 B7 B flat maj7 reads Am7 A flat 7 Gmaj7 on an alto).
// Common practice, no source.
#pragma once

#include <vector>

#include "theory/chord.h"
#include "theory/key.h"

namespace relead::arrange {

struct ChordToSpell {
    theory::Chord chord;  ///< strictly transposed
    theory::Key key;      ///< written key in force
};

/// The chords with the names that read best in a row; N.C. stays as it is.
[[nodiscard]] std::vector<theory::Chord> spell_chords(const std::vector<ChordToSpell>& row);

/// A melody note over `chord` (written, may be null): its strict name moved along when the chord was
/// respelled (`shift` fifths: 0, -12 or 12), unless that is a double accidental, or C flat, F flat, E
/// sharp or B sharp outside `key` and foreign to the chord.
[[nodiscard]] theory::Pitch spell_pitch(theory::Pitch strict, const theory::Key& key,
                                        const theory::Chord* chord, int shift);

}  // namespace relead::arrange
