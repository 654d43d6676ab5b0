// ♭ and ♯ in sentences: terminals show what a keyboard types, paper and page what a musician writes.
#pragma once

#include <string>
#include <string_view>

namespace relead::theory {

/// Chord symbols, note names, degrees and numerals in `prose` with ♭ and ♯: "Gb7#11 keeps Bb, the b9" reads
/// "G♭7♯11 keeps B♭, the ♭9". Other words stay as they are; so does "Ebb" unless it moves or is held
/// ("Ebb>Db").
[[nodiscard]] std::string with_signs(std::string_view prose);

/// ♭ or ♯ stands in it, as authors write whose chords have them.
[[nodiscard]] bool has_signs(std::string_view prose);

/// One sign in a sentence: chords are in their author's hand, and where that has ♭ and ♯, note names and
/// degrees get them too: "A♭7 has Ab, the b9 of G7" reads "A♭7 has A♭, the ♭9 of G7". Chords stay as they
/// are.
[[nodiscard]] std::string in_one_hand(std::string_view sentence);
/// The same, also where the chords of which the sentence speaks stand beside it.
[[nodiscard]] std::string in_hand_of(std::string_view chords, std::string_view sentence);

/// A row of guide tones: "E♭ → D, A held, B = C♭" for "Eb>D, A held, B=Cb".
[[nodiscard]] std::string motion_with_signs(std::string_view motion);

}  // namespace relead::theory
