// What the words of a bass cell mean over a chord.
#pragma once

#include <optional>
#include <string_view>

#include "voicing/bass_line.h"

namespace relead::voicing {

/// Semitones above the chord's bass note of a word such as "1", "3", "-5", "8"; nothing when the chord has
/// no such tone. Thirds, fifths and sevenths are the chord's; what lies between is the key's where the chord
/// belongs to the key, else the chord scale's. Over a slash chord only 1, 8, and 3 and 5 for the next chord
/// tones above the bass.
[[nodiscard]] std::optional<int> bass_step(const theory::Chord& chord, const std::optional<theory::Key>& key,
                                           std::string_view word);

}  // namespace relead::voicing
