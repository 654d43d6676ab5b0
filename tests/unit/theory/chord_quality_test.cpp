// grammar/chord-table.txt against published chord formulas
#include <algorithm>

#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

struct Row {
    const char* symbol;
    const char* notes;
    const char* kind;
    const char* harmony;
    const char* source;
};

// [kind] W3C MusicXML 4.0, data type kind-value; [degree] its elements degree, degree-alter and
// degree-type; [m21] music21, harmony.py CHORD_TYPES; [cp] common practice, no source.
const Row rows[] = {
    {"C", "C E G", "major", "", "[kind] [m21]"},
    {"Ebm", "Eb Gb Bb", "minor", "", "[kind] [m21]"},
    {"G#dim", "G# B D", "diminished", "", "[kind] [m21]"},
    {"Abaug", "Ab C E", "augmented", "", "[kind] [m21]"},
    {"C5", "C G", "power", "", "[kind] [m21]"},
    {"Cmaj7", "C E G B", "major-seventh", "", "[kind] [m21]"},
    {"Cbmaj7", "Cb Eb Gb Bb", "major-seventh", "", "[kind] [m21]"},
    {"F#maj7", "F# A# C# E#", "major-seventh", "", "[kind] [m21]"},
    {"C7", "C E G Bb", "dominant", "", "[kind] [m21]"},
    {"Bb7", "Bb D F Ab", "dominant", "", "[kind] [m21]"},
    {"Gb7", "Gb Bb Db Fb", "dominant", "", "[kind] [m21]"},
    {"C#7", "C# E# G# B", "dominant", "", "[kind] [m21]"},
    {"B7", "B D# F# A", "dominant", "", "[kind] [m21]"},
    {"Cm7", "C Eb G Bb", "minor-seventh", "", "[kind] [m21]"},
    {"Ebm7", "Eb Gb Bb Db", "minor-seventh", "", "[kind] [m21]"},
    {"G#m7", "G# B D# F#", "minor-seventh", "", "[kind] [m21]"},
    {"Abm7", "Ab Cb Eb Gb", "minor-seventh", "", "[kind] [m21]"},
    {"F#m7b5", "F# A C E", "half-diminished", "", "[kind] [m21]"},
    {"Ebm7b5", "Eb Gb Bbb Db", "half-diminished", "", "[kind] [m21]"},
    {"Bm7b5", "B D F A", "half-diminished", "", "[kind] [m21]"},
    {"Bdim7", "B D F Ab", "diminished-seventh", "", "[kind] [m21]"},
    {"C#dim7", "C# E G Bb", "diminished-seventh", "", "[kind] [m21]"},
    {"F#dim7", "F# A C Eb", "diminished-seventh", "", "[kind] [m21]"},
    {"Ebdim7", "Eb Gb Bbb Dbb", "diminished-seventh", "", "[kind] [m21]"},
    {"Cm(maj7)", "C Eb G B", "major-minor", "", "[kind] [m21]"},
    {"Ebm(maj7)", "Eb Gb Bb D", "major-minor", "", "[kind] [m21]"},
    {"C7#5", "C E G# Bb", "augmented-seventh", "", "[kind] [m21]"},
    {"Gb7#5", "Gb Bb D Fb", "augmented-seventh", "", "[kind] [m21]"},
    {"Cmaj7#5", "C E G# B", "major-seventh", "alter 5 1", "[kind] [degree] [m21]"},
    {"C7b5", "C E Gb Bb", "dominant", "alter 5 -1", "[kind] [degree] [m21]"},
    {"C6", "C E G A", "major-sixth", "", "[kind] [m21]"},
    {"Cm6", "C Eb G A", "minor-sixth", "", "[kind] [m21]"},
    {"Bbm6", "Bb Db F G", "minor-sixth", "", "[kind] [m21]"},
    {"C6/9", "C E G A D", "major-sixth", "add 9 0", "[kind] [degree] [cp]"},
    {"Gm6/9", "G Bb D E A", "minor-sixth", "add 9 0", "[kind] [degree] [cp]"},
    {"C9", "C E G Bb D", "dominant-ninth", "", "[kind] [m21]"},
    {"Cmaj9", "C E G B D", "major-ninth", "", "[kind] [m21]"},
    {"Fm9", "F Ab C Eb G", "minor-ninth", "", "[kind] [m21]"},
    {"Cm11", "C Eb G Bb D F", "minor-11th", "", "[kind] [m21]"},
    {"Dm9b5", "D F Ab C E", "half-diminished", "add 9 0", "[kind] [degree] [m21]"},
    // The jazz 13 leaves the natural 11 out; the kind is still dominant-13th, which readers expect.
    {"C13", "C E G Bb D A", "dominant-13th", "", "[kind]; without 11: [cp]"},
    {"Cmaj13", "C E G B D A", "major-13th", "", "[kind]; without 11: [cp]"},
    {"Cm13", "C Eb G Bb D F A", "minor-13th", "", "[kind]"},
    {"C7b9", "C E G Bb Db", "dominant", "add 9 -1", "[kind] [degree] [cp]"},
    {"Db7b9", "Db F Ab Cb Ebb", "dominant", "add 9 -1", "[kind] [degree] [cp]"},
    {"C7#9", "C E G Bb D#", "dominant", "add 9 1", "[kind] [degree] [cp]"},
    {"E7#9", "E G# B D F##", "dominant", "add 9 1", "[kind] [degree] [cp]"},
    {"A7#9b13", "A C# E G B# F", "dominant", "add 9 1; add 13 -1", "[kind] [degree] [cp]"},
    {"D7b9b13", "D F# A C Eb Bb", "dominant", "add 9 -1; add 13 -1", "[kind] [degree] [cp]"},
    {"Eb7#11", "Eb G Bb Db A", "dominant", "add 11 1", "[kind] [degree] [cp]"},
    {"G13b9", "G B D F Ab E", "dominant", "add 9 -1; add 13 0", "[kind] [degree] [cp]"},
    {"Bb13#11", "Bb D F Ab C E G", "dominant-ninth", "add 11 1; add 13 0", "[kind] [degree] [cp]"},
    {"C7b9#5", "C E G# Bb Db", "augmented-seventh", "add 9 -1", "[kind] [degree] [cp]"},
    {"C7#9#5", "C E G# Bb D#", "augmented-seventh", "add 9 1", "[kind] [degree] [cp]"},
    {"C7b9b5", "C E Gb Bb Db", "dominant", "alter 5 -1; add 9 -1", "[kind] [degree] [cp]"},
    {"Bbmaj7#11", "Bb D F A E", "major-seventh", "add 11 1", "[kind] [degree] [cp]"},
    {"Fsus4", "F Bb C", "suspended-fourth", "", "[kind] [m21]"},
    {"Csus2", "C D G", "suspended-second", "", "[kind] [m21]"},
    // Degrees of sus and alt are not printed: W3C MusicXML 4.0, element kind ("13sus").
    {"G7sus4", "G C D F", "suspended-fourth", "(add 7 0)", "[kind] [degree] [m21]"},
    {"G9sus4", "G C D F A", "suspended-fourth", "(add 7 0); (add 9 0)", "[kind] [degree] [cp]"},
    {"G13sus4", "G C D F A E", "suspended-fourth", "(add 7 0); (add 9 0); (add 13 0)",
     "[kind] [degree] [cp]"},
    {"Bb7sus4b9", "Bb Eb F Ab Cb", "suspended-fourth", "(add 7 0); add 9 -1", "[kind] [degree] [cp]"},
    {"Cadd9", "C E G D", "major", "add 9 0", "[kind] [degree] [cp]"},
    {"Cm(add9)", "C Eb G D", "minor", "add 9 0", "[kind] [degree] [cp]"},
    // No natural fifth, ninth, eleventh or thirteenth: "Altered chord", Wikipedia.
    {"C7alt", "C E Gb Bb Db D# Ab", "dominant", "(alter 5 -1); (add 9 -1); (add 9 1); (add 13 -1)",
     "[degree] [cp]"},
    {"N.C.", "", "none", "", "[kind]"},
};

// Notes as a set: the sources list them in another order when an extension is altered.
std::vector<std::string> sorted(std::string text) {
    auto parts = words(text);
    std::sort(parts.begin(), parts.end());
    return parts;
}

}  // namespace

TEST_CASE("chord symbols, their notes and their MusicXML") {
    for (const auto& row : rows) {
        INFO(row.symbol << ", source " << row.source);
        const Chord of = chord(row.symbol);
        CHECK(sorted(tone_names(of)) == sorted(row.notes));
        const HarmonyKind kind = harmony_kind(of);
        CHECK(kind.kind == row.kind);
        CHECK(harmony_text(kind) == row.harmony);
        CHECK(to_string(of) == row.symbol);
    }
}

TEST_CASE("slash chords: the bass is no degree") {
    struct SlashRow {
        const char *symbol, *notes, *bass, *kind;
    };
    // W3C MusicXML 4.0, element bass; tutorial "Chord Symbols and Diagrams", first example (G6/D).
    const SlashRow slash_rows[] = {{"C/E", "C E G", "E", "major"},
                                   {"D7/F#", "D F# A C", "F#", "dominant"},
                                   {"Ab/Bb", "Ab C Eb", "Bb", "major"},
                                   {"G6/D", "G B D E", "D", "major-sixth"}};
    for (const auto& row : slash_rows) {
        INFO(row.symbol);
        const Chord of = chord(row.symbol);
        CHECK(tone_names(of) == row.notes);
        REQUIRE(of.bass.has_value());
        CHECK(to_string(*of.bass) == row.bass);
        CHECK(harmony_kind(of).kind == row.kind);
        CHECK(harmony_kind(of).degrees.empty());
        CHECK(to_string(of) == row.symbol);
    }
    // The same tutorial's second example: A with an added ninth.
    CHECK(harmony_kind(chord("A(9)")).kind == "major");
    CHECK(harmony_text(harmony_kind(chord("A(9)"))) == "add 9 0");
    CHECK(tone_names(chord("A(9)")) == "A C# E B");
}

TEST_CASE("triads over a bass sound like suspended dominants") {
    struct SoundRow {
        const char *slash, *sus;
    };
    // Without the fifth of the suspended chord; computed from the definitions.
    const SoundRow sound_rows[] = {
        {"F/G", "G9sus4(no5)"}, {"Fmaj7/G", "G13sus4(no5)"}, {"Dm7/G", "G9sus4"}, {"Bb/C", "C9sus4(no5)"}};
    for (const auto& row : sound_rows) {
        INFO(row.slash);
        CHECK(pitch_class_set(chord(row.slash)) == pitch_class_set(chord(row.sus)));
    }
}
