// compiler/theory/key.h
#include "theory/key.h"

#include "unit/theory/chords.h"

using namespace relead::theory;
using relead::theory::test::joined;
using relead::theory::test::note;
using relead::theory::test::words;

namespace {

Key key_of(std::string_view text) {
    const auto parts = words(text);
    const auto mode = parse_mode(parts[1]);
    REQUIRE(mode.has_value());
    return {note(parts[0]), *mode};
}

}  // namespace

TEST_CASE("signatures") {
    struct Row {
        const char* key;
        int signature;
        bool minor_like, modal;
    };
    // Circle of fifths, e.g. rodroger.com, table of keys; modes: Wikipedia, "Mode (music)".
    const Row rows[] = {
        {"C major", 0, false, false},  {"F major", -1, false, false},    {"Gb major", -6, false, false},
        {"F# major", 6, false, false}, {"Cb major", -7, false, false},   {"A minor", 0, true, false},
        {"C minor", -3, true, false},  {"D# minor", 6, true, false},     {"Eb minor", -6, true, false},
        {"F blues", -1, false, false}, {"D dorian", 0, true, true},      {"E phrygian", 0, true, true},
        {"F lydian", 0, false, true},  {"G mixolydian", 0, false, true}, {"A aeolian", 0, true, true},
        {"B locrian", 0, true, true},  {"C ionian", 0, false, true},     {"Eb dorian", -5, true, true}};
    for (const auto& row : rows) {
        INFO(row.key);
        CHECK(signature(key_of(row.key)) == row.signature);
        CHECK(is_minor_like(key_of(row.key)) == row.minor_like);
        CHECK(is_modal(key_of(row.key)) == row.modal);
        CHECK(to_string(key_of(row.key)) == row.key);
    }
    CHECK_FALSE(parse_mode("Major").has_value());
    CHECK(to_string(key_of("Bb minor"), true) == "B♭ minor");
}

TEST_CASE("keys with too many accidentals have a practical twin") {
    struct Row {
        const char *key, *practical, *keeping_seven;
    };
    const Row rows[] = {{"C# major", "Db major", "C# major"}, {"Cb major", "B major", "Cb major"},
                        {"G# major", "Ab major", "Ab major"}, {"F# major", "F# major", "F# major"},
                        {"Gb major", "Gb major", "Gb major"}, {"A# minor", "Bb minor", "A# minor"},
                        {"G# minor", "G# minor", "G# minor"}, {"D# dorian", "Eb dorian", "D# dorian"},
                        {"Fb major", "E major", "E major"}};
    for (const auto& row : rows) {
        INFO(row.key);
        CHECK(to_string(practical_key(key_of(row.key))) == row.practical);
        CHECK(to_string(practical_key(key_of(row.key), true)) == row.keeping_seven);
    }
}

TEST_CASE("degrees count from the major scale of the tonic, in minor too") {
    struct Row {
        const char *tonic, *name, *degree;
    };
    const Row rows[] = {{"C", "Eb", "bIII"},  {"C", "F#", "#IV"},    {"C", "G", "V"},    {"Bb", "Cb", "bII"},
                        {"Eb", "Db", "bVII"}, {"A", "G#", "VII"},    {"A", "G", "bVII"}, {"F", "B", "#IV"},
                        {"Gb", "Cb", "IV"},   {"C", "Bbb", "bbVII"}, {"E", "F", "bII"},  {"C", "C", "I"},
                        {"Ab", "Fb", "bVI"},  {"F#", "E#", "VII"},   {"D", "E", "II"}};
    for (const auto& row : rows) {
        INFO(row.name << " in " << row.tonic);
        const ScaleDegree degree = scale_degree(note(row.name), note(row.tonic));
        CHECK(to_string(degree) == row.degree);
        CHECK(parse_scale_degree(row.degree) == degree);
        CHECK(note_at(note(row.tonic), degree) == note(row.name));
    }
    CHECK(parse_scale_degree("bvii") == ScaleDegree{7, -1});
    for (const char* wrong : {"", "VIII", "bI I", "iI", "IIII", "#bV", "b", "1", "IIb"}) {
        INFO(wrong);
        CHECK_FALSE(parse_scale_degree(wrong).has_value());
    }
}

TEST_CASE("notes that belong to a key") {
    struct Row {
        const char *key, *inside, *outside;
    };
    // Minor has its raised sixth and seventh, the blues its minor seventh, blue third and blue fifth.
    const Row rows[] = {
        {"C major", "C D E F G A B", "Bb F# Eb Cb B# E# Fb"}, {"Gb major", "Gb Ab Bb Cb Db Eb F", "B E C"},
        {"A minor", "A B C D E F G F# G#", "Bb C# Eb"},       {"D dorian", "D E F G A B C", "Bb C# Eb"},
        {"F blues", "F G A Bb C D E Eb Ab Cb", "B Db F# Gb"}, {"E phrygian", "E F G A B C D", "F# D#"}};
    for (const auto& row : rows) {
        for (const auto& name : words(row.inside)) {
            INFO(name << " in " << row.key);
            CHECK(is_diatonic(note(name), key_of(row.key)));
        }
        for (const auto& name : words(row.outside)) {
            INFO(name << " in " << row.key);
            CHECK_FALSE(is_diatonic(note(name), key_of(row.key)));
        }
    }
}
