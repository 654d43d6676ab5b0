// ♭ and ♯ in sentences: terminals show what a keyboard types, paper and page what a musician writes.
#pragma once

#include <string>
#include <string_view>

namespace relead::report {

/// Chord symbols, note names, degrees and numerals in `prose` with ♭ and ♯: "Gb7#11 keeps Bb, the b9" reads
/// "G♭7♯11 keeps B♭, the ♭9". Other words stay as they are; so does "Ebb" unless it moves or is held
/// ("Ebb>Db").
[[nodiscard]] std::string with_signs(std::string_view prose);

/// A row of guide tones: "E♭ → D, A held, B = C♭" for "Eb>D, A held, B=Cb".
[[nodiscard]] std::string motion_with_signs(std::string_view motion);

}  // namespace relead::report
