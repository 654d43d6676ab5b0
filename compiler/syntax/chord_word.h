// The chord in a chord word, and what to say when there is none. The parser keeps symbols as text; who
// knows the beat (the tune model) calls this with the full place, so that messages name A:7.3.
#pragma once

#include <optional>

#include "syntax/tune_tree.h"
#include "text/diagnose.h"
#include "theory/chord.h"

namespace relead::syntax {

/// Reads `word.symbol`. Emits an error with the nearest spelling, or the repairs that fit, as fixes
/// when it is no chord, and remarks (a Unicode minus sign, C11 taken as 9sus4). Precondition: a word of
/// Kind::chord.
[[nodiscard]] std::optional<theory::Chord> read_chord(const ChordWord& word, const Place& place,
                                                      text::Sink& sink);

}  // namespace relead::syntax
