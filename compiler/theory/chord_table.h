// The rows of grammar/chord-table.txt as the theory layer reads them. Other layers use chord.h.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "theory/chord.h"

namespace relead::theory {

struct QualityRow {
    std::string_view name;  ///< canonical spelling
    std::span<const std::string_view> spellings;
    std::span<const Degree> degrees;
    std::span<const Degree> guides;
    ChordClass chord_class;
    std::span<const Degree> tensions;
    std::span<const Degree> avoid;
    std::string_view kind;
    std::string_view text;
    std::span<const HarmonyDegree> harmony;
    int line;  ///< in the table, for messages of tests
};

[[nodiscard]] QualityRow quality_row(QualityId quality);
/// The quality in a row of the table, 0 .. quality_count() - 1.
[[nodiscard]] constexpr QualityId quality_at(std::size_t row) {
    return {static_cast<std::uint16_t>(row)};
}

/// A spelling of the table, canonical or not, in folded form (see fold_chord_signs).
struct Spelling {
    std::string_view text;
    QualityId quality;
};
/// Every spelling, sorted by bytes; row 0 (no chord) included.
[[nodiscard]] std::vector<Spelling> all_spellings();
[[nodiscard]] std::optional<QualityId> find_spelling(std::string_view folded);

/// A word with the look-alike signs of grammar/chord-folding.txt replaced.
struct FoldedWord {
    std::string text;
    std::vector<std::size_t> origin;  ///< byte of the word behind each byte of `text`, and one for its end
    std::vector<std::string_view> noticed;  ///< signs that deserve a remark
};
[[nodiscard]] FoldedWord fold_chord_signs(std::string_view word);
/// The sentence for a spelling that musicians read in different ways, or empty.
[[nodiscard]] std::string_view remark_for(std::string_view folded_spelling);

/// Brings quality, extra and omitted degrees into their one normal form. False when degrees contradict
/// each other; the chord is then unchanged.
[[nodiscard]] bool normalise(Chord& chord);

/// The chord that sounds exactly these degrees (sorted): an equal row of the table, else `preferred`
/// without what is missing or the largest row contained, with the rest as extra degrees.
[[nodiscard]] Chord chord_of_degrees(NoteName root, const std::vector<Degree>& sounding, QualityId preferred);

/// Semitones above the root, 0..11.
[[nodiscard]] int semitones_above_root(Degree degree);
/// The name for a tone this many semitones above the root, as a jazz player counts: #9, #11, b13.
[[nodiscard]] Degree tension_degree(int semitones);

}  // namespace relead::theory
