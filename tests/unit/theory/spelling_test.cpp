// compiler/theory/spelling.cpp: what a player reads
#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

std::string spelled(const char* chords, const char* tonic, Interval by = {}) {
    const Key key{note(tonic), Mode::major};
    std::vector<Chord> row;
    for (const auto& symbol : words(chords)) row.push_back(transpose(chord(symbol), by));
    std::vector<std::string> out;
    for (const auto& of : practical_spelling(row, key)) out.push_back(to_string(of));
    return joined(out);
}

const Interval up_major_sixth = interval_of_degree(6, 0);   // concert to alto
const Interval up_major_second = interval_of_degree(2, 0);  // concert to trumpet, tenor

}  // namespace

TEST_CASE("roots that are hard to read are respelled unless they belong to the key") {
    struct Row {
        const char *symbol, *key, *practical;
    };
    const Row rows[] = {{"Fb7", "Eb", "E7"},        {"Cb7", "Bb", "B7"},      {"Cbmaj7", "Gb", "Cbmaj7"},
                        {"Bbb7", "Ab", "A7"},       {"Abb7", "Gb", "G7"},     {"E#m7b5", "F#", "E#m7b5"},
                        {"E#7", "B", "F7"},         {"B#dim7", "E", "Cdim7"}, {"F##m7b5", "F#", "Gm7b5"},
                        {"Ebbm7", "Db", "Dm7"},     {"G7", "C", "G7"},        {"C#7", "C", "C#7"},
                        {"Db7", "C", "Db7"},        {"G#7", "F", "Ab7"},      {"C#7", "Bb", "Db7"},
                        {"C#dim7", "Bb", "C#dim7"}, {"Gb7", "E", "F#7"},      {"N.C.", "C", "N.C."}};
    for (const auto& row : rows) {
        INFO(row.symbol << " in " << row.key);
        CHECK(to_string(practical_spelling(chord(row.symbol), Key{note(row.key), Mode::major})) ==
              row.practical);
    }
}

TEST_CASE("the blue tones of a blues are no roots") {
    // The flat fifth of Bb belongs to its blues scale; nobody writes a chord on Fb for it.
    CHECK(to_string(practical_spelling(chord("Fb7"), Key{note("Bb"), Mode::blues})) == "E7");
    CHECK(to_string(practical_spelling(chord("Cb7"), Key{note("Ab"), Mode::blues})) == "B7");
    // IV of Gb is written so in its signature.
    CHECK(to_string(practical_spelling(chord("Cb7"), Key{note("Gb"), Mode::blues})) == "Cb7");
    const auto row = practical_spelling(std::vector{chord("Bb7"), chord("Fb7"), chord("Eb7")},
                                        Key{note("Bb"), Mode::blues});
    CHECK(to_string(row[1]) == "E7");
}

TEST_CASE("the bass goes with the root") {
    struct Row {
        const char *symbol, *key, *practical;
    };
    const Row rows[] = {{"Fb7/Ab", "Eb", "E7/G#"},    {"Cb7/Ebb", "Bb", "B7/D"},
                        {"C#7/E#", "F#", "C#7/E#"},   {"C7/E#", "C", "C7/F"},
                        {"Dbm7/Fb", "Ab", "Dbm7/Fb"}, {"Cbmaj7/Gb", "Gb", "Cbmaj7/Gb"},
                        {"C7/Abb", "C", "C7/G"}};
    for (const auto& row : rows) {
        INFO(row.symbol << " in " << row.key);
        CHECK(to_string(practical_spelling(chord(row.symbol), Key{note(row.key), Mode::major})) ==
              row.practical);
    }
}

TEST_CASE("half-step neighbours use neighbouring letters") {
    // Common practice, no source: a substitute dominant is read as the flat second of its target.
    CHECK(spelled("Cm7 B7 Bbmaj7", "Bb") == "Cm7 B7 Bbmaj7");  // Cb7 is no name for a player
    CHECK(spelled("Cm7 B7 Bbmaj7", "G", up_major_sixth) == "Am7 Ab7 Gmaj7");
    CHECK(spelled("Cm7 B7 Bbmaj7", "C", up_major_second) == "Dm7 Db7 Cmaj7");
    CHECK(spelled("D7 Db7 C7 B7 Bb", "Bb") == "D7 Db7 C7 B7 Bb");
    CHECK(spelled("D7 Db7 C7 B7 Bb", "G", up_major_sixth) == "B7 Bb7 A7 Ab7 G");
    // Passing diminished chords lead upwards: musictheorymanual.com, "Passing diminished seventh chords".
    CHECK(spelled("Cmaj7 C#dim7 Dm7 D#dim7 Em7", "C") == "Cmaj7 C#dim7 Dm7 D#dim7 Em7");
    CHECK(spelled("Em7 Ebdim7 Dm7 G7", "C") == "Em7 Ebdim7 Dm7 G7");
    CHECK(spelled("Cmaj7 Dbdim7 Dm7", "C") == "Cmaj7 C#dim7 Dm7");
    CHECK(spelled("Fmaj7 F#dim7 C/G", "C") == "Fmaj7 F#dim7 C/G");
    CHECK(spelled("Abm7 N.C. G7", "C") == "Abm7 N.C. G7");
    CHECK(spelled("", "C").empty());
}

TEST_CASE("symbols of B flat and E flat parts") {
    struct Row {
        const char *concert, *key, *b_flat_key, *b_flat, *e_flat_key, *e_flat;
    };
    // Definition of the transpositions; keys of the parts as in practice.
    const Row rows[] = {{"Gb7", "F", "G", "Ab7", "D", "Eb7"},
                        {"F#m7b5", "G", "A", "G#m7b5", "E", "D#m7b5"},
                        {"Bb7", "Eb", "F", "C7", "C", "G7"},
                        {"C#dim7", "C", "D", "D#dim7", "A", "A#dim7"},
                        {"E7#9", "A", "B", "F#7#9", "F#", "C#7#9"}};
    for (const auto& row : rows) {
        INFO(row.concert);
        CHECK(spelled(row.concert, row.b_flat_key, up_major_second) == row.b_flat);
        CHECK(spelled(row.concert, row.e_flat_key, up_major_sixth) == row.e_flat);
    }
}
