// compiler/analysis/numerals.cpp: names that depend on sounds, not on how a key makes a chart spell them. All
// rows are common practice, no source.
#include "analysis/numerals.h"

#include "support/catch.h"
#include "theory/chord.h"
#include "tune/transpose.h"
#include "unit/analysis/told.h"

using namespace relead;
using testing::analysed;

namespace {

struct Row {
    std::string key, changes, numerals;
};

/// The numeral of a symbol against C.
std::string in_c(const std::string& symbol) {
    const auto chord = theory::parse_chord(symbol).chord;
    REQUIRE(chord);
    return analysis::plain_numeral(*chord, theory::NoteName{0});
}

}  // namespace

TEST_CASE("one sound has one numeral, whatever its spelling") {
    const std::pair<std::string, std::string> twins[] = {
        {"Eb7/G", "D#7/F##"}, {"Gmaj7", "Abbmaj7"}, {"Gb7", "F#7"},       {"F#m7", "Gbm7"},
        {"F#m7b5", "Gbm7b5"}, {"Db7", "C#7"},       {"Cm7/Bb", "Cm7/A#"}, {"B7", "Cb7"},
    };
    for (const auto& [one, other] : twins) {
        INFO(one << " and " << other);
        CHECK(in_c(one) == in_c(other));
    }
    CHECK(in_c("F#7") == "bV7");
    CHECK(in_c("Gbm7") == "#iv7");
    CHECK(in_c("Gbm7b5") == "#ivø7");
    CHECK(in_c("C#7") == "bII7");
}

TEST_CASE("basses count from the root as players name them") {
    const std::pair<std::string, std::string> rows[] = {
        {"D7/F#", "II7/3"}, {"C/Bb", "I/b7"},  {"C/A#", "I/b7"},        {"Cmaj7/B", "Imaj7/7"},
        {"Am/G#", "vi/7"},  {"Am/C", "vi/b3"}, {"Bm7b5/F", "viiø7/b5"}, {"Caug/G#", "I+/#5"},
        {"C/Gb", "I/#4"},   {"C/D", "I/2"},    {"C/C#", "I/b2"},        {"C/F", "I/4"},
    };
    for (const auto& [symbol, numeral] : rows) CHECK(in_c(symbol) == numeral);
}

TEST_CASE("a diminished chord is named by where it leads") {
    const Row rows[] = {
        {"C major", "Dm7 D#dim7 | Em7 | Dm7 G7 | C6", "ii7 #ii°7 iii7 ii7 V7 I6"},
        {"C major", "Dm7 Ebdim7 | Em7 | Dm7 G7 | C6", "ii7 #ii°7 iii7 ii7 V7 I6"},
        {"C major", "Em7 D#dim7 | Dm7 | Dm7 G7 | C6", "iii7 biii°7 ii7 ii7 V7 I6"},
        {"C major", "C6 | G#dim7 | G7 | C6", "I6 bvi°7 V7 I6"},
        {"C major", "F6 | Gbdim7 | C/G | G7", "IV6 #iv°7 I/5 V7"},
        {"C major", "Em7 | D#dim7 | G7 | C6", "iii7 biii°7 V7 I6"},
        {"C major", "C6 | Ebdim7 | C6 | G7", "I6 #ii°7 I6 V7"},
    };
    for (const auto& row : rows) {
        INFO(row.changes);
        CHECK(testing::numerals(analysed(row.key, row.changes)) == row.numerals);
    }
}

TEST_CASE("numerals are the same in twelve keys") {
    const Row rows[] = {
        {"C major", "C6 C/Bb | Am7 D7/F# | Em7 Ebdim7 | Dm7 G7", "I6 I/b7 vi7 V7/3/V iii7 biii°7 ii7 V7"},
        {"C minor", "Cm Cm/B | Cm/Bb Am7b5 | F#dim7 Cm/G | Ab7 G7", "i i/7 i/b7 viø7 #iv°7 i/5 subV7/V V7"},
    };
    for (const auto& row : rows) {
        const auto tune = testing::small_tune(row.key, row.changes);
        for (int fifths = -6; fifths <= 6; ++fifths) {
            INFO(row.changes << ", fifths " << fifths);
            const auto moved = tune::transpose_to(tune, theory::NoteName{fifths});
            CHECK(testing::numerals(analysis::analyse(moved)) == row.numerals);
        }
    }
}
