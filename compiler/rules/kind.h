// Kinds of chord: the classes in which rules speak. `V7` in a rule takes every dominant (7, 9, 13,
// altered; never sus), `1:maj` every major chord. The words are rows of kinds.def.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "theory/chord.h"

namespace relead::rules {

/// One bit per kind of chord; a class is a set of kinds.
using KindSet = std::uint32_t;

enum Kind : KindSet {
    major_triad = 1U << 0U,
    major_sixth = 1U << 1U,
    major_seventh = 1U << 2U,
    minor_triad = 1U << 3U,
    minor_sixth = 1U << 4U,
    minor_seventh = 1U << 5U,
    minor_major = 1U << 6U,
    dominant = 1U << 7U,
    suspended = 1U << 8U,
    half_diminished = 1U << 9U,
    diminished = 1U << 10U,
    augmented = 1U << 11U,
    power = 1U << 12U,
    no_chord = 1U << 13U,
};

/// Every kind but N.C.
constexpr KindSet any_chord = no_chord - 1U;

[[nodiscard]] Kind kind_of(const theory::Chord& chord);
[[nodiscard]] inline bool is_a(const theory::Chord& chord, KindSet kinds) {
    return (kind_of(chord) & kinds) != 0;
}

/// What a chord is to a rule that looks for chords: Dm7/G, F/G and the six-four C/G are heard as the
/// suspended dominant on G (common practice, no source), every other chord as its symbol says.
struct Heard {
    theory::NoteName root;
    Kind kind = no_chord;
};
[[nodiscard]] Heard heard_as(const theory::Chord& chord);

/// The set that a class word of the rule language names ("maj", "dom", "minor", "any"); nothing
/// when there is no such word.
[[nodiscard]] std::optional<KindSet> find_kinds(std::string_view word);
/// What a rule's chord name (`ii7`, `Imaj7`) takes when it is looked for: the kinds that musicians
/// read as the same thing. `Imaj7` takes triads and sixths too, `ii7` a plain minor triad.
[[nodiscard]] KindSet kinds_named_by(const theory::Chord& chord);
/// "a dominant", "a major chord or a minor chord", "any chord but a minor chord": words for a sentence.
[[nodiscard]] std::string describe(KindSet kinds);
/// What is missing from a set of nearly everything, "a minor chord"; "" for a set that is better named by
/// what it holds.
[[nodiscard]] std::string describe_others(KindSet kinds);

}  // namespace relead::rules
