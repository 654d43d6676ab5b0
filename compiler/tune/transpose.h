// Transposition of a whole tune: keys, chords, melody, bass. Strict: the inverse interval gives the
// same tune back (a property). Spelling for readers is chosen where sheets are made.
#pragma once

#include "theory/note.h"
#include "tune/tune.h"

namespace relead::tune {

[[nodiscard]] Tune transpose(const Tune& tune, theory::Interval by);
/// Moves the tune so that its home key has this tonic, by the smaller way (at most a tritone).
[[nodiscard]] Tune transpose_to(const Tune& tune, theory::NoteName tonic);

}  // namespace relead::tune
