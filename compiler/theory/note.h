// Note names, intervals and pitches on the line of fifths.
// A name is a position on that line (… B♭ = -2, F = -1, C = 0, G = 1, D = 2 … F♯ = 6);
// an interval is a pair (fifths, octaves). Transposition, spelling, key signatures and numerals
// are additions on the line; semitones are derived from it, never the other way round.
#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace relead::theory {

/// A spelled note name without octave. Any integer is a valid position.
struct NoteName {
    int fifths = 0;
    friend constexpr auto operator<=>(const NoteName&, const NoteName&) = default;
};

/// A spelled interval: `fifths` steps on the line of fifths and `octaves` octaves.
/// Major second = (2, -1), perfect fifth = (1, 0), octave = (0, 1), minor third = (-3, 2).
struct Interval {
    int fifths = 0;
    int octaves = 0;
    friend constexpr auto operator<=>(const Interval&, const Interval&) = default;
    /// Signed size in semitones.
    [[nodiscard]] constexpr int semitones() const { return 7 * fifths + 12 * octaves; }
    /// Signed size in staff steps: second = 1, octave = 7.
    [[nodiscard]] constexpr int steps() const { return 4 * fifths + 7 * octaves; }
    constexpr Interval operator-() const { return {-fifths, -octaves}; }
    friend constexpr Interval operator+(Interval a, Interval b) {
        return {a.fifths + b.fifths, a.octaves + b.octaves};
    }
    friend constexpr Interval operator-(Interval a, Interval b) { return a + (-b); }
};

/// A spelled pitch as its interval above C0 (scientific pitch notation; C4 = middle C = MIDI 60).
struct Pitch {
    Interval above_c0;
    friend constexpr auto operator<=>(const Pitch&, const Pitch&) = default;
};

/// 0..6 for C..B.
[[nodiscard]] int letter_index(NoteName name);
/// 'A'..'G'.
[[nodiscard]] char letter(NoteName name);
/// Sharps (positive) or flats (negative) on the letter.
[[nodiscard]] int alteration(NoteName name);
/// 0..11, C = 0.
[[nodiscard]] int pitch_class(NoteName name);
/// Semitones from one pitch class up to the other, 0..11; any keys do, their octaves are left out.
[[nodiscard]] constexpr int semitones_up(int from, int to) {
    constexpr int octave = 12;
    return ((to - from) % octave + octave) % octave;
}
/// Semitones from one name up to the other, 0..11, however the two are spelled.
[[nodiscard]] int semitones_up(NoteName from, NoteName to);
[[nodiscard]] NoteName note_from(char letter, int alteration);
/// Name without octave: "Bb", "F#", "Abb"; with `unicode` "B♭", "F♯", "A♭♭".
[[nodiscard]] std::string to_string(NoteName name, bool unicode = false);
/// Reads "C", "Bb", "F#", "B♭", "F♯", "Abb", "F##", "F𝄪" whole; nothing else.
[[nodiscard]] std::optional<NoteName> parse_note_name(std::string_view text);

constexpr NoteName operator+(NoteName name, Interval by) {
    return {name.fifths + by.fifths};
}
constexpr NoteName operator-(NoteName name, Interval by) {
    return {name.fifths - by.fifths};
}
/// Position of `a` counted from `b` on the line of fifths.
constexpr int operator-(NoteName a, NoteName b) {
    return a.fifths - b.fifths;
}

[[nodiscard]] NoteName name_of(Pitch pitch);
/// Scientific octave number: 4 for middle C up to the B above it (B♯3 is octave 3).
[[nodiscard]] int octave_of(Pitch pitch);
[[nodiscard]] Pitch pitch_from(NoteName name, int octave);
/// MIDI note number, C4 = 60; may lie outside 0..127.
[[nodiscard]] int midi_number(Pitch pitch);
/// "Bb4".
[[nodiscard]] std::string to_string(Pitch pitch, bool unicode = false);
[[nodiscard]] std::optional<Pitch> parse_pitch(std::string_view text);

constexpr Pitch operator+(Pitch pitch, Interval by) {
    return {pitch.above_c0 + by};
}
constexpr Pitch operator-(Pitch pitch, Interval by) {
    return {pitch.above_c0 - by};
}
constexpr Interval operator-(Pitch a, Pitch b) {
    return a.above_c0 - b.above_c0;
}

/// Simple ascending interval from degree notation: degree 1..13 and its alteration in semitones
/// against the major scale: (3, 0) major third, (7, -1) minor seventh, (9, 1) augmented ninth.
[[nodiscard]] Interval interval_of_degree(int degree, int alteration);
/// Practical respelling to the enharmonic name nearest to `center` on the line of fifths
/// (between center - 6 and center + 6).
[[nodiscard]] NoteName respell_near(NoteName name, NoteName center);

}  // namespace relead::theory
