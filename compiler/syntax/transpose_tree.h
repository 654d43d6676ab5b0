// Transposing the text of a tune, comments and all (the model's transposition is tune/transpose.h).
#pragma once

#include "syntax/tune_tree.h"

namespace relead::syntax {

enum class Spelling {
    strict,     ///< every name moves by exactly the interval; the inverse gives the tree back
                ///< (with b for an author's ♭ where the name was natural in between)
    practical,  ///< keys of at most six accidentals, chords and notes respelled to suit (tidy --to)
};

/// Moves keys, chords and pitches. Chord words that are no chords stay as they are.
[[nodiscard]] TuneTree transpose(const TuneTree& tree, theory::Interval by,
                                 Spelling spelling = Spelling::strict);

}  // namespace relead::syntax
