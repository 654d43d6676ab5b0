// Chords of the rule language: numerals with a quality (ii7, bVIImaj7, #i°7, V7(b9)/5), degrees with a
// class (1:maj, b7:dom, any:sus), and bare degrees (b9, #11).
#pragma once

#include <optional>
#include <string_view>

#include "rules/rule.h"
#include "theory/chord.h"
#include "theory/key.h"

namespace relead::rules {

/// A numeral: its degree against the major scale of the tonic and the chord built there. Small letters
/// are minor (ii7 = m7, iv = m), capitals major or as the suffix says.
struct Numeral {
    theory::ScaleDegree degree;
    theory::Chord quality;               ///< on C: only its quality and further degrees count
    std::optional<theory::Degree> bass;  ///< behind a slash, as a degree of the chord
};
[[nodiscard]] std::optional<Numeral> parse_numeral(std::string_view word);
/// The same root with one sign at most, of a chord with more: "II7" for "bbIII7", "6:dom" for "bb7:dom".
/// Nothing for any other word.
[[nodiscard]] std::optional<std::string> with_one_sign(std::string_view word);
/// The chord on its degree of `tonic`, strict spelling.
[[nodiscard]] theory::Chord realise(const Numeral& numeral, theory::NoteName tonic);

/// A chord of a pattern.
[[nodiscard]] std::optional<ChordPattern> parse_pattern(std::string_view word);
/// "b9", "#11", "3": 1 to 13 with at most two signs.
[[nodiscard]] std::optional<theory::Degree> parse_degree(std::string_view word);
/// The degree, reduced to one octave, as a degree of a scale.
[[nodiscard]] theory::ScaleDegree scale_degree_of(theory::Degree degree);

}  // namespace relead::rules
