// compiler/theory/chord_parse.cpp, chord_degrees.cpp: symbols that could be read in two ways
#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;

TEST_CASE("each trap has one reading") {
    struct Row {
        const char *symbol, *reading, *notes;
    };
    const Row rows[] = {
        // Accidentals belong to the root.
        {"Bb5", "Bb5", "Bb F"},
        {"B(b5)", "B(b5)", "B D# F"},
        {"C#9", "C#9", "C# E# G# B D#"},
        {"C(#9)", "C(#9)", "C E G D#"},
        {"Bb7", "Bb7", "Bb D F Ab"},
        // The hyphen: minor after the root, flat after a digit or a bracket.
        {"C-", "Cm", "C Eb G"},
        {"C-7", "Cm7", "C Eb G Bb"},
        {"C-9", "Cm9", "C Eb G Bb D"},
        {"C7-9", "C7b9", "C E G Bb Db"},
        {"C7(-9)", "C7b9", "C E G Bb Db"},
        {"C-7-5", "Cm7b5", "C Eb Gb Bb"},
        // The plus: augmented after the root, sharp after a digit.
        {"C+", "Caug", "C E G#"},
        {"C+7", "C7#5", "C E G# Bb"},
        {"C7+", "C7#5", "C E G# Bb"},
        {"C+9", "C9#5", "C E G# Bb D"},
        {"C7+9", "C7#9", "C E G Bb D#"},
        {"C7+5", "C7#5", "C E G# Bb"},
        {"C+7+9", "C7#9#5", "C E G# Bb D#"},
        // Capital M is major, small m is minor.
        {"CM7", "Cmaj7", "C E G B"},
        {"Cm7", "Cm7", "C Eb G Bb"},
        {"Cmi7", "Cm7", "C Eb G Bb"},
        {"Cma7", "Cmaj7", "C E G B"},
        {"CMI7", "Cm7", "C Eb G Bb"},
        {"CMA7", "Cmaj7", "C E G B"},
        {"CM", "C", "C E G"},
        {"CmM7", "Cm(maj7)", "C Eb G B"},
        {"C-△7", "Cm(maj7)", "C Eb G B"},
        {"Cm+7", "Cm(maj7)", "C Eb G B"},
        // Eleventh, second, sus.
        {"C11", "C9sus4", "C F G Bb D"},
        {"Cm11", "Cm11", "C Eb G Bb D F"},
        {"C2", "Cadd9", "C E G D"},
        {"Csus", "Csus4", "C F G"},
        {"Csus7", "C7sus4", "C F G Bb"},
        {"C7sus", "C7sus4", "C F G Bb"},
        {"C7susb9", "C7sus4b9", "C F G Bb Db"},
        // b13, not b1 and 3; m7b13 is no row of the table.
        {"Cm7b13", "Cm7(b13)", "C Eb G Bb Ab"},
        {"C7b13", "C7b13", "C E G Bb Ab"},
        {"C7alt", "C7alt", "C E Gb Bb Db D# Ab"},
        {"Calt", "C7alt", "C E Gb Bb Db D# Ab"},
        // A 7 on a sixth chord is the major seventh.
        {"C6(7)", "C6(maj7)", "C E G A B"},
        {"C6(maj7)", "C6(maj7)", "C E G A B"},
        {"Cm6(7)", "Cm6(maj7)", "C Eb G A B"},
        {"C(7)", "C7", "C E G Bb"},
        // The slash: degree after a digit, bass before a letter.
        {"C6/9", "C6/9", "C E G A D"},
        {"C69", "C6/9", "C E G A D"},
        {"C6/9/G", "C6/9/G", "C E G A D"},
        {"C7/9", "C9", "C E G Bb D"},
        {"C7/b9", "C7b9", "C E G Bb Db"},
        {"C7b9/b13", "C7b9b13", "C E G Bb Db Ab"},
        {"Cm7/11", "Cm7(11)", "C Eb G Bb F"},
        {"C/Bb", "C/Bb", "C E G"},
        {"Db7/Cb", "Db7/Cb", "Db F Ab Cb"},
        {"C/C", "C", "C E G"},
        // Triangle, circle, slashed o.
        {"C△", "Cmaj7", "C E G B"},
        {"C∆7", "Cmaj7", "C E G B"},
        {"CΔ9", "Cmaj9", "C E G B D"},
        {"C°", "Cdim", "C Eb Gb"},
        {"Cº7", "Cdim7", "C Eb Gb Bbb"},
        {"Co7", "Cdim7", "C Eb Gb Bbb"},
        {"Cø", "Cm7b5", "C Eb Gb Bb"},
        {"CØ7", "Cm7b5", "C Eb Gb Bb"},
        {"F♯ø7", "F#m7b5", "F# A C E"},
        {"B♭△7", "Bbmaj7", "Bb D F A"},
        {"C7♭9♯11", "C7b9#11", "C E G Bb Db F#"},
        {"C−7", "Cm7", "C Eb G Bb"},
        {"C–7", "Cm7", "C Eb G Bb"},
        {"C⁷", "C7", "C E G Bb"},
        // "maj" is longer than "m" and "a".
        {"Cmaj7", "Cmaj7", "C E G B"},
        {"Cmadd9", "Cm(add9)", "C Eb G D"},
        {"Cmadd11", "Cm(add11)", "C Eb G F"},
        // One sound, one reading, in whatever order the degrees stand.
        {"C7(b9,#11)", "C7b9#11", "C E G Bb Db F#"},
        {"C7(#11,b9)", "C7b9#11", "C E G Bb Db F#"},
        {"C7#11b9", "C7b9#11", "C E G Bb Db F#"},
        {"C7(b9)(#11)", "C7b9#11", "C E G Bb Db F#"},
        {"C7(b9 #11)", "C7b9#11", "C E G Bb Db F#"},
        {"C7b9(#9,#11)", "C7b9#9(#11)", "C E G Bb Db D# F#"},
        {"C7(b9,#9,#11)", "C7b9#9(#11)", "C E G Bb Db D# F#"},
        {"C13(b9)", "C13b9", "C E G Bb Db A"},
        {"Cmaj7(9)", "Cmaj9", "C E G B D"},
        {"C(no3)", "C5", "C G"},
        {"C9(no5)", "C9(no5)", "C E Bb D"},
        {"C7omit5", "C7(no5)", "C E Bb"},
        {"C(add11)", "C(add11)", "C E G F"},
        {"C7sus4(3)", "C7sus4(3)", "C E F G Bb"},
        // Upper structures.
        {"C7{D}", "C7{D}", "C E G Bb D F# A"},
        {"C7{F#m}", "C7{F#m}", "C E G Bb Db F# A"},
        {"G7{Db}/F", "G7{Db}/F", "G B D F Ab C#"},
        {"NC", "N.C.", ""},
        {"N.C.", "N.C.", ""},
    };
    for (const auto& row : rows) {
        INFO(row.symbol);
        const Chord of = chord(row.symbol);
        CHECK(to_string(of, SymbolStyle::plain) == row.reading);
        CHECK(tone_names(of) == row.notes);
    }
}

TEST_CASE("the author's own spelling is kept for display") {
    for (const char* symbol : {"C-7", "C△7", "CMA7", "B♭△7", "F♯ø7", "C7(b9,#11)", "C+7", "Eb69", "NC", "C−7",
                               "D-7/G", "C7(♭9)/E♭", "Cmi7", "C7{D}", "Gsus", "C11"}) {
        INFO(symbol);
        CHECK(to_string(chord(symbol)) == symbol);
    }
    // It goes along when the chord is transposed, and is not part of what a chord is.
    CHECK(to_string(transpose(chord("C△7/E"), interval_of_degree(2, 0))) == "D△7/F#");
    CHECK(chord("C-7") == chord("Cm7"));
    CHECK(to_string(chord("C7b9"), SymbolStyle::unicode) == "C7♭9");
    CHECK(to_string(chord("Bbm7b5"), SymbolStyle::unicode) == "B♭m7♭5");
    CHECK(to_string(chord("C-7/Bb"), SymbolStyle::plain) == "Cm7/Bb");
}

TEST_CASE("readings that a musician may not expect come with a remark") {
    struct Row {
        const char *symbol, *part;
    };
    const Row rows[] = {
        {"C11", "write \"C9sus4\""}, {"Eb11", "write \"Eb9sus4\""},
        {"C2", "write \"Csus2\""},   {"C−7", "The sign \"−\" in \"C−7\" is read as \"-\"."},
        {"C–7", "is read as \"-\""}, {"C6(7)", "major seventh"},
        {"Bb5", "write B(b5)"},      {"Bbb7", "write Bb(b7)"},
        {"C/C", "is its root"},
    };
    for (const auto& row : rows) {
        INFO(row.symbol);
        const auto reading = parse_chord(row.symbol);
        REQUIRE(reading.remarks.size() == 1);
        CHECK(reading.remarks[0].find(row.part) != std::string::npos);
        CHECK(reading.remarks[0].back() == '.');
    }
    for (const char* plain :
         {"C7", "C-7", "C△7", "Bb9", "C#9", "Cm11", "C7(b9)", "Cø7", "B♭7", "C6/9", "N.C."}) {
        INFO(plain);
        CHECK(parse_chord(plain).remarks.empty());
    }
}
