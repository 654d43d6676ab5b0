// compiler/theory/note.h
#include "theory/note.h"

#include "unit/theory/chords.h"

using namespace relead::theory;
using relead::theory::test::note;

TEST_CASE("a note name is a position on the line of fifths") {
    struct Row {
        const char* name;
        int fifths, letter, alteration, pitch_class;
    };
    const Row rows[] = {{"C", 0, 0, 0, 0},      {"G", 1, 4, 0, 7},    {"F", -1, 3, 0, 5},
                        {"F#", 6, 3, 1, 6},     {"Gb", -6, 4, -1, 6}, {"B", 5, 6, 0, 11},
                        {"Cb", -7, 0, -1, 11},  {"B#", 12, 6, 1, 0},  {"E#", 11, 2, 1, 5},
                        {"Fb", -8, 3, -1, 4},   {"Ab", -4, 5, -1, 8}, {"D", 2, 1, 0, 2},
                        {"Abb", -11, 5, -2, 7}, {"F##", 13, 3, 2, 7}, {"Bbb", -9, 6, -2, 9}};
    for (const auto& row : rows) {
        INFO(row.name);
        CHECK(note(row.name).fifths == row.fifths);
        CHECK(letter_index(note(row.name)) == row.letter);
        CHECK(alteration(note(row.name)) == row.alteration);
        CHECK(pitch_class(note(row.name)) == row.pitch_class);
        CHECK(to_string(note(row.name)) == row.name);
        CHECK(letter(note(row.name)) == row.name[0]);
    }
}

TEST_CASE("note names are read whole, ASCII and Unicode") {
    CHECK(parse_note_name("B♭") == note("Bb"));
    CHECK(parse_note_name("F♯") == note("F#"));
    CHECK(parse_note_name("A♭♭") == note("Abb"));
    CHECK(parse_note_name("F𝄪") == note("F##"));
    CHECK(parse_note_name("E𝄫") == note("Ebb"));
    CHECK(to_string(note("Ebb"), true) == "E♭♭");
    CHECK(to_string(note("F#"), true) == "F♯");
    for (const char* wrong : {"", "H", "b", "c", "Cx", "C#b", "Cb#", "C ", " C", "C4", "♭B"}) {
        INFO(wrong);
        CHECK_FALSE(parse_note_name(wrong).has_value());
    }
}

TEST_CASE("semitones up: from one name to the next of the other, octaves and spelling left out") {
    struct Row {
        const char *from, *to;
        int up;
    };
    const Row rows[] = {{"C", "C", 0},  {"C", "G", 7},   {"G", "C", 5},    {"B", "C", 1},
                        {"C", "B", 11}, {"F#", "Gb", 0}, {"B#", "Cb", 11}, {"Db", "G", 6}};
    for (const auto& row : rows) {
        INFO(row.from << " up to " << row.to);
        CHECK(semitones_up(note(row.from), note(row.to)) == row.up);
        CHECK(semitones_up(pitch_class(note(row.from)), pitch_class(note(row.to))) == row.up);
    }
    // Any keys do, below and above each other: MIDI 60 is a C, 55 a G, and 0 the lowest C.
    CHECK(semitones_up(60, 55) == 7);
    CHECK(semitones_up(55, 60) == 5);
    CHECK(semitones_up(96, 0) == 0);
    CHECK(semitones_up(0, 127) == 7);
}

TEST_CASE("pitches: scientific octave numbers and MIDI numbers") {
    struct Row {
        const char* name;
        int midi, octave;
    };
    // C4 = middle C = 60: MIDI 1.0 Detailed Specification; octave of B#3 and Cb4: letters count.
    const Row rows[] = {{"C4", 60, 4},   {"A4", 69, 4},  {"C0", 12, 0},  {"B#3", 60, 3},
                        {"Cb4", 59, 4},  {"C-1", 0, -1}, {"Eb5", 75, 5}, {"F##4", 67, 4},
                        {"Dbb4", 60, 4}, {"A0", 21, 0},  {"C8", 108, 8}, {"G9", 127, 9}};
    for (const auto& row : rows) {
        INFO(row.name);
        const auto pitch = parse_pitch(row.name);
        REQUIRE(pitch.has_value());
        CHECK(midi_number(*pitch) == row.midi);
        CHECK(octave_of(*pitch) == row.octave);
        CHECK(to_string(*pitch) == row.name);
    }
    for (const char* wrong : {"", "C", "4", "c4", "C4.", "C4x", "C400", "C--1", "H4"}) {
        INFO(wrong);
        CHECK_FALSE(parse_pitch(wrong).has_value());
    }
}

TEST_CASE("intervals of chord degrees") {
    struct Row {
        int degree, alteration, semitones, steps;
    };
    const Row rows[] = {{1, 0, 0, 0},   {2, 0, 2, 1},    {3, 0, 4, 2},    {3, -1, 3, 2},   {4, 0, 5, 3},
                        {4, 1, 6, 3},   {5, 0, 7, 4},    {5, -1, 6, 4},   {6, 0, 9, 5},    {7, 0, 11, 6},
                        {7, -1, 10, 6}, {7, -2, 9, 6},   {8, 0, 12, 7},   {9, 0, 14, 8},   {9, -1, 13, 8},
                        {9, 1, 15, 8},  {11, 0, 17, 10}, {11, 1, 18, 10}, {13, 0, 21, 12}, {13, -1, 20, 12}};
    for (const auto& row : rows) {
        INFO(row.degree << " altered by " << row.alteration);
        CHECK(interval_of_degree(row.degree, row.alteration).semitones() == row.semitones);
        CHECK(interval_of_degree(row.degree, row.alteration).steps() == row.steps);
    }
}

TEST_CASE("pitches and intervals add up") {
    const auto c5 = *parse_pitch("C5");
    const Interval major_sixth = interval_of_degree(6, 0);
    CHECK(to_string(c5 - major_sixth) == "Eb4");
    CHECK(to_string(c5 + interval_of_degree(9, 1)) == "D#6");
    CHECK((*parse_pitch("Eb4") - c5) == -major_sixth);
    CHECK(note("Bb") + interval_of_degree(7, -1) == note("Ab"));
    CHECK(note("Gb") - note("C") == -6);
}

TEST_CASE("practical respelling stays within six fifths of a centre") {
    CHECK(respell_near(note("Fb"), note("C")) == note("E"));
    CHECK(respell_near(note("B#"), note("G")) == note("C"));
    CHECK(respell_near(note("Gb"), note("C")) == note("Gb"));
    CHECK(respell_near(note("F#"), note("C")) == note("F#"));
    CHECK(respell_near(note("F#"), note("Ab")) == note("Gb"));
    CHECK(respell_near(note("Abb"), note("Gb")) == note("Abb"));
}
