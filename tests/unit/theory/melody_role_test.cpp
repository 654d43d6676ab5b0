// compiler/theory/melody_role.cpp and the tensions and avoid columns of the chord table
#include "theory/chord_table.h"
#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

ToneRole role(const char* symbol, const std::string& name) {
    return role_of(chord(symbol), pitch_class(note(name)));
}

void check_all(const char* symbol, const char* names, ToneRole expected) {
    for (const auto& name : words(names)) {
        INFO(name << " over " << symbol);
        CHECK(static_cast<int>(role(symbol, name)) == static_cast<int>(expected));
    }
}

}  // namespace

TEST_CASE("melody notes over each kind of chord") {
    struct Row {
        const char *symbol, *chord_tones, *tensions, *avoid, *clash, *source;
    };
    // [avoid] Wikipedia, "Avoid note"; [cp] common practice, no source; [mem] from memory.
    const Row rows[] = {
        {"Cmaj7", "C E G B", "D A F#", "F", "Db Ab Eb Bb", "[avoid] Imaj7: 11; IVmaj7: 9 #11 13"},
        {"C6", "C E G A", "D F# B", "F", "Db Ab Bb Eb", "[cp]"},
        {"C7", "C E G Bb", "D Db D# F# A Ab", "F B", "", "[avoid] V7: 11; altered: [cp]"},
        {"C7sus4", "C F G Bb", "D A Db E", "B", "", "[mem]"},
        {"Cm7", "C Eb G Bb", "D F A", "Db Ab", "E F# B", "[avoid] ii, iii, vi"},
        {"Cm7b5", "C Eb Gb Bb", "F Ab D", "Db", "E B", "[avoid] vii: b9; 11, b13"},
        {"Cdim7", "C Eb Gb Bbb", "D F Ab B", "Db E G Bb", "", "[mem] a whole step above each tone"},
        {"Cm(maj7)", "C Eb G B", "D F A", "Db Ab", "E", "[avoid] melodic minor i: 9 11 13"},
        {"Cm6", "C Eb G A", "D F B", "Db Ab", "E Bb", "[mem]"},
        {"C7#5", "C E G# Bb", "D Db D# F#", "F B A", "", "[mem]"},
        {"Cmaj7#5", "C E G# B", "D F#", "A", "Db", "[avoid] melodic minor III+: 13"},
        {"C7alt", "C E F# Bb Db D# Ab", "", "D G A F B", "", "Wikipedia, \"Altered chord\""},
        {"C7b9", "C E G Bb Db", "D# F# A Ab", "D F B", "", "[cp]"},
        {"C13", "C E G Bb D A", "D# F#", "Ab Db F B", "", "[cp]"},
        {"C7(b9,#9,#11)", "C E G Bb Db D# F#", "A Ab", "D F B", "", "[cp]"},
        {"Cm7(b13)", "C Eb G Bb Ab", "D F", "A Db", "E", "[cp]"},
    };
    for (const auto& row : rows) {
        INFO(row.source);
        check_all(row.symbol, row.chord_tones, ToneRole::chord_tone);
        check_all(row.symbol, row.tensions, ToneRole::available_tension);
        check_all(row.symbol, row.avoid, ToneRole::avoid);
        check_all(row.symbol, row.clash, ToneRole::clash);
    }
}

TEST_CASE("a note held over G7 against what may replace it") {
    struct Row {
        const char *chord, *good, *refused, *source;
    };
    const Row rows[] = {
        {"Db7", "G B F Ab Bb A E Eb D", "C Gb",
         "Wikipedia, \"Tritone substitution\" (#11); verdicts: common practice"},
        {"Bb7", "G F D E C Db", "A Eb", "Wikipedia, \"Backdoor progression\"; verdicts: common practice"},
        {"Fm7", "F Ab C Eb G Bb D", "E A B", "common practice, no source"},
    };
    for (const auto& row : rows) {
        INFO(row.source);
        for (const auto& name : words(row.good)) {
            INFO(name << " over " << row.chord);
            CHECK((role(row.chord, name) == ToneRole::chord_tone ||
                   role(row.chord, name) == ToneRole::available_tension));
        }
        for (const auto& name : words(row.refused)) {
            INFO(name << " over " << row.chord);
            CHECK((role(row.chord, name) == ToneRole::avoid || role(row.chord, name) == ToneRole::clash));
        }
    }
}

TEST_CASE("bass, upper structure, omissions and no chord") {
    check_all("C7/F#", "F#", ToneRole::chord_tone);
    check_all("C7{D}", "F# A D", ToneRole::chord_tone);
    check_all("C7(no5)", "G", ToneRole::available_tension);
    check_all("C7(b5,13)", "G", ToneRole::avoid);
    check_all("N.C.", "C Db D Eb E F Gb G Ab A Bb B", ToneRole::chord_tone);
    CHECK(role_of(chord("C7"), -12) == ToneRole::chord_tone);
    CHECK(role_of(chord("C7"), 12 + 5) == ToneRole::avoid);
}

TEST_CASE("the blues scale is available over the dominants of a blues") {
    const Key blues{note("C"), Mode::blues}, major{note("C"), Mode::major};
    struct Row {
        const char *chord, *name;
        ToneRole in_blues, in_major;
    };
    // Common practice, no source: the tonic's blues scale over I7, IV7 and V7.
    const Row rows[] = {{"C7", "F", ToneRole::available_tension, ToneRole::avoid},
                        {"F7", "Bb", ToneRole::available_tension, ToneRole::avoid},
                        {"G7", "Gb", ToneRole::available_tension, ToneRole::avoid},
                        {"G7", "C", ToneRole::available_tension, ToneRole::avoid},
                        {"C7", "Eb", ToneRole::available_tension, ToneRole::available_tension},
                        {"C7", "B", ToneRole::avoid, ToneRole::avoid},
                        {"Dm7", "Gb", ToneRole::clash, ToneRole::clash},
                        {"C7", "C", ToneRole::chord_tone, ToneRole::chord_tone}};
    for (const auto& row : rows) {
        INFO(row.name << " over " << row.chord);
        const int pitch = pitch_class(note(row.name));
        CHECK(static_cast<int>(role_of(chord(row.chord), pitch, blues)) == static_cast<int>(row.in_blues));
        CHECK(static_cast<int>(role_of(chord(row.chord), pitch, major)) == static_cast<int>(row.in_major));
    }
}

TEST_CASE("triads over a dominant") {
    struct Row {
        const char *triad, *degrees, *source;
    };
    // Wikipedia, "Upper structure"; rows without a name there are computed.
    const Row usable[] = {{"C", "1 3 5", ""},
                          {"D", "9 #11 13", "Wikipedia"},
                          {"Eb", "#9 5 b7", "Wikipedia"},
                          {"Gb", "#11 b7 b9", "Wikipedia"},
                          {"Ab", "b13 1 #9", "Wikipedia"},
                          {"A", "13 b9 3", "Wikipedia"},
                          {"Cm", "1 #9 5", "Wikipedia"},
                          {"Dbm", "b9 3 b13", "Wikipedia"},
                          {"Ebm", "#9 #11 b7", "Wikipedia"},
                          {"F#m", "#11 13 b9", "Wikipedia"},
                          {"Gm", "5 b7 9", ""},
                          {"Am", "13 1 3", ""}};
    for (const auto& row : usable) {
        INFO(row.triad << " over C7");
        const Chord triad = chord(row.triad);
        std::vector<std::string> names;
        for (const NoteName name : tones(triad)) {
            names.push_back(to_string(tension_degree(pitch_class(name))));
            const ToneRole over_c7 = role_of(chord("C7"), pitch_class(name));
            CHECK((over_c7 == ToneRole::chord_tone || over_c7 == ToneRole::available_tension));
        }
        CHECK(joined(names) == row.degrees);
        const Chord whole = chord("C7{" + std::string(row.triad) + "}");
        CHECK((pitch_class_set(whole) == (pitch_class_set(chord("C7")) | pitch_class_set(triad))));
    }
    for (const char* avoided : {"Db", "E", "F", "G", "Bb", "B", "Dm", "Em", "Fm", "Abm", "Bbm", "Bm"}) {
        INFO(avoided << " over C7");
        bool refused = false;
        for (const NoteName name : tones(chord(avoided)))
            refused |= role_of(chord("C7"), pitch_class(name)) == ToneRole::avoid;
        CHECK(refused);
    }
    // Without its root C7b5b9 is Gb7.
    CHECK((pitch_class_set(chord("C7b5b9")) & ~1U) == pitch_class_set(chord("Gb7")));
}
