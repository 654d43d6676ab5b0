// A chord: root, quality, further degrees, bass, upper structure. The vocabulary of qualities is
// the table grammar/chord-table.txt; this header is what the rest of the compiler uses of it.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "theory/key.h"
#include "theory/note.h"

namespace relead::theory {

/// A degree above the root: (3, -1) minor third, (7, -1) minor seventh, (7, -2) diminished
/// seventh, (9, 1) augmented ninth. Alterations count semitones against the major scale.
struct Degree {
    int number = 1;
    int alteration = 0;
    friend constexpr auto operator<=>(const Degree&, const Degree&) = default;
};
[[nodiscard]] std::string to_string(Degree degree);  // "b9", "#11", "3"

/// Row of the chord table. Row 0 is N.C. (no chord).
struct QualityId {
    std::uint16_t row = 0;
    friend constexpr auto operator<=>(const QualityId&, const QualityId&) = default;
};

/// How a chord behaves; one per quality (a column of the chord table).
enum class ChordClass : std::uint8_t {
    none,       ///< N.C.
    major,      ///< triads, sixths, major sevenths
    minor,      ///< minor triads, m6, m7, m(maj7)
    dominant,   ///< major third and minor seventh, whatever the alterations (not sus)
    suspended,  ///< sus2, sus4 with or without minor seventh
    half_diminished,
    diminished,  ///< dim triad and dim7
    augmented,   ///< augmented triad, maj7#5
    power,       ///< root and fifth
};

struct UpperStructure {
    NoteName root;
    bool minor = false;
    friend bool operator==(const UpperStructure&, const UpperStructure&) = default;
};

struct Chord {
    NoteName root;
    QualityId quality;
    std::vector<Degree> extra;  ///< degrees beyond the quality's own, sorted, e.g. (b9, #11)
    std::optional<NoteName> bass;
    std::optional<UpperStructure> upper;
    std::string suffix;        ///< the author's own spelling after the root, kept for display; "" = canonical
    std::vector<int> omitted;  ///< degree numbers left out: C7(no5) has {5}; sorted
    bool unicode_accidentals = false;  ///< the author wrote ♭ and ♯ in root or bass; for display

    [[nodiscard]] bool is_none() const { return quality.row == 0; }
    /// Same sound and spelling: root, quality, degrees, bass, upper (not how it was typed).
    friend bool operator==(const Chord& a, const Chord& b) {
        return a.root == b.root && a.quality == b.quality && a.extra == b.extra && a.omitted == b.omitted &&
               a.bass == b.bass && a.upper == b.upper;
    }
};

/// What went wrong in a chord word, at byte `at` of it.
struct ChordProblem {
    enum class Kind {
        empty,
        lower_case_root,
        h_root,
        unknown_root,
        unknown_quality,
        bad_degree,
        space_before_slash,
        bad_bass,
        two_chords_or_bass,
        bad_upper_structure,
        unclosed_parenthesis,
        contradicting_degrees,
        detached_degrees,  ///< "(b9)" on its own, or a space inside the symbol: join it to its chord
    };
    Kind kind = Kind::empty;
    std::size_t at = 0;
    /// Nearest known spelling of the whole word, empty when none is near. For two_chords_or_bass the
    /// two chords apart ("Em7 A7"); `other` is then the slash chord ("Em7/A").
    std::string nearest;
    std::string other;
};

struct ChordReading {
    std::optional<Chord> chord;
    std::optional<ChordProblem> problem;
    /// Remarks such as a Unicode minus sign read as minor, or C11 taken as 9sus4: plain sentences.
    std::vector<std::string> remarks;
};

/// Reads one chord symbol as musicians write it, ASCII or Unicode ("Bbmaj7", "B♭△7", "C7(b9,#11)",
/// "C/E", "C7{D}", "N.C."). The whole word must be the chord.
[[nodiscard]] ChordReading parse_chord(std::string_view word);

/// `chord` with one more degree, in its one normal form (C7 and b9 give the quality 7b9), without the
/// author's spelling; unchanged when that tone sounds already; nothing when the degree contradicts the
/// chord (natural 9 on 7b9).
[[nodiscard]] std::optional<Chord> with_degree(const Chord& chord, Degree degree);

enum class SymbolStyle { as_written, plain, unicode };
/// The symbol; `as_written` uses the author's suffix where there is one.
[[nodiscard]] std::string to_string(const Chord& chord, SymbolStyle style = SymbolStyle::as_written);

[[nodiscard]] ChordClass chord_class(const Chord& chord);
/// The tone in the bass: the root where the symbol names no other.
[[nodiscard]] NoteName bass_of(const Chord& chord);
/// ii over the root of its dominant (Dm7/G): it sounds as that dominant, suspended (common practice, no
/// source).
[[nodiscard]] bool is_two_over_dominant(const Chord& chord);
/// Canonical spelling of the quality ("m7b5"), as in the chord table.
[[nodiscard]] std::string_view quality_name(QualityId quality);
[[nodiscard]] std::optional<QualityId> find_quality(std::string_view spelling);
[[nodiscard]] std::size_t quality_count();

/// All degrees that sound, root first, ascending; extra degrees included, replaced ones left out.
[[nodiscard]] std::vector<Degree> degrees(const Chord& chord);
/// The spelled tones for `degrees`, strict spelling (D♭7 has C♭).
[[nodiscard]] std::vector<NoteName> tones(const Chord& chord);
[[nodiscard]] NoteName tone(const Chord& chord, Degree degree);
/// Bit n is set when pitch class n (absolute, C = 0) sounds.
[[nodiscard]] unsigned pitch_class_set(const Chord& chord);

/// The two tones that carry the voice leading; none for N.C. `third` is the one in the third's
/// role (3, sus 4), `seventh` the one in the seventh's (7, 6, or the nearer of 1 and 5 in triads).
struct GuideTones {
    Degree third;
    Degree seventh;
};
[[nodiscard]] std::optional<GuideTones> guide_tones(const Chord& chord);
/// All pairs that may count: one for most chords, two for triads (3 with 1, 3 with 5), none for N.C.
/// guide_tones is the first of them; guide_motion.h chooses by where the line goes.
[[nodiscard]] std::vector<GuideTones> guide_tone_choices(const Chord& chord);

/// What a melody note means against a chord.
enum class ToneRole { chord_tone, available_tension, avoid, clash };
[[nodiscard]] ToneRole role_of(const Chord& chord, int pitch_class);
/// The same in a key: in the blues the tonic's blues scale (1 b3 4 b5 5 b7) is available over every
/// dominant chord (common practice, no source). Other keys change nothing.
[[nodiscard]] ToneRole role_of(const Chord& chord, int pitch_class, const Key& key);

/// Strict transposition; bass and upper structure move along, `suffix` is kept.
[[nodiscard]] Chord transpose(const Chord& chord, Interval by);
/// Practical spelling on paper: no double accidental and no C♭ F♭ E♯ B♯ root unless diatonic in
/// `key`; otherwise unchanged. The bass follows the root's side.
[[nodiscard]] Chord practical_spelling(const Chord& chord, const Key& key);
/// The same for a row of chords in playing order: in addition neighbours a half step apart use
/// neighbouring letters where both names are legal (Am7 Ab7 Gmaj7, never Am7 G#7 Gmaj7; #i°7 before
/// ii keeps its sharp).
[[nodiscard]] std::vector<Chord> practical_spelling(std::span<const Chord> row, const Key& key);

/// Numeral against the major scale of the tonic: "ii7", "bVII7", "Imaj7", "iiø7", "#iv°7", "V7b9". A bass
/// is given as a degree of the chord itself: C/G in C is "I/5", D7/F# is "II7/3".
[[nodiscard]] std::string numeral(const Chord& chord, NoteName tonic);

/// What MusicXML's <harmony> needs: kind value, text, degrees; see the W3C kind-value table.
struct HarmonyDegree {
    int value = 0;
    int alter = 0;
    enum class Type { add, alter, subtract } type = Type::add;
    bool printed = true;
    bool says_add = false;  ///< the word "add" is to be read: Cadd9 (no text="" on degree-type)
    friend bool operator==(const HarmonyDegree&, const HarmonyDegree&) = default;
};
struct HarmonyKind {
    std::string kind;  ///< "dominant", "minor-seventh", …, "none"
    std::string text;  ///< what the kind alone shows ("7", "m7", "maj7")
    std::vector<HarmonyDegree> degrees;
};
[[nodiscard]] HarmonyKind harmony_kind(const Chord& chord);
/// The reverse: nearest chord for a kind with degrees on a root. A text that says more than a bare kind
/// (kind "dominant", text "7b9") counts; nothing for an unknown kind without a readable text.
/// An upper structure comes back as plain degrees.
[[nodiscard]] std::optional<Chord> chord_from_harmony(NoteName root, const HarmonyKind& kind,
                                                      std::optional<NoteName> bass);

}  // namespace relead::theory
