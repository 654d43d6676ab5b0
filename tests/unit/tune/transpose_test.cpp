// compiler/tune/transpose.cpp, write.cpp: a tune in another key, and back as text.
#include "tune/transpose.h"

#include "tune/write.h"
#include "unit/tune/reading.h"

using namespace relead;
using namespace relead::tune;
using namespace relead::tune::testing;

namespace {

const std::string full = in_section(
    "changes G7 | Cmaj7 | A7/C# | % | <Dm7*3 G7b9! |\nmelody q {F#4} G4 | h E5~ E5 | [3:2 q C#5 D5 E5] h r | "
    "w ? | D5 |\n"
    "bass . | w C3 | C#3 | . | . |\nossia . | . | Eb7 | . | . |\nsoloist . | . | Bb7 | . | . |\n"
    "long . | E5 | C#5 | . | D5 B4 |\nhits . | q. x e X~ h X | . | . | . |\nlyrics oh | sea | and _ sky | . "
    "| now |\n"
    "marks . | segno | . | . | D.S. |\nkey F major\nchanges | F | C7 |");

std::string text_in(const std::string& tonic) {
    return write_tune(transpose_to(tune_of(full), *theory::parse_note_name(tonic)));
}

}  // namespace

TEST_CASE("Everything that sounds moves, everything else stays", "[tune]") {
    const auto moved = transpose(tune_of(full), theory::interval_of_degree(3, -1));
    CHECK(theory::to_string(moved.key) == "Eb major");
    const auto& bars = moved.sections[0].bars;
    CHECK(theory::to_string(bars[2].changes[0].chord) == "C7/E");
    CHECK(theory::to_string(bars[1].melody->front().pitch) == "G5");
    CHECK(theory::to_string(bars[0].melody->front().grace.front()) == "A4");
    CHECK(theory::to_string(bars[1].bass->front().pitch) == "Eb3");
    CHECK(theory::to_string(bars[2].ossia->front().chord) == "Gb7");
    CHECK(theory::to_string(bars[2].soloist->front().chord) == "Db7");
    CHECK(theory::to_string(*bars[5].new_key) == "Ab major");
    CHECK(bars[4].changes[1].locked);
    CHECK(bars[4].changes[0].push == Push::eighth_early);
    CHECK(bars[1].hits->size() == 3);
}

TEST_CASE("To another tonic by the smaller way", "[tune]") {
    const auto first_note = [](const std::string& tonic) {
        const auto moved = transpose_to(tune_of(full), *theory::parse_note_name(tonic));
        CHECK(theory::to_string(moved.key.tonic) == tonic);
        return theory::to_string(moved.sections[0].bars[1].melody->front().pitch);  // E5 in C
    };
    CHECK(first_note("C") == "E5");
    CHECK(first_note("F") == "A5");
    CHECK(first_note("G") == "B4");
    CHECK(first_note("Bb") == "D5");
    CHECK(first_note("Gb") == "Bb5");
    CHECK(first_note("B") == "D#5");
    CHECK(first_note("Ab") == "C5");
}

TEST_CASE("An open key has no tonic to move", "[tune]") {
    auto text = in_section("changes | Dm7 |\nkey D dorian\nchanges | Em7 |\nkey open\nchanges | F |");
    text.replace(text.find("key C major"), 11, "key open");
    const auto tune = tune_of(text);
    const auto up = theory::interval_of_degree(2, 0);
    const auto moved = transpose(tune, up);
    CHECK(theory::signature(moved.key) == 0);
    CHECK(theory::to_string(*moved.sections[0].bars[1].new_key) == "E dorian");
    CHECK(theory::signature(*moved.sections[0].bars[2].new_key) == 0);
    CHECK(dump(transpose(moved, -up)) == dump(tune));
    CHECK(dump(*read(write_tune(moved)).value) == dump(moved));
}

TEST_CASE("A tune as text", "[tune]") {
    CHECK(text_in("D") == R"(tune    "T"
key     D major
meter   4/4
tempo   120 swing

section A
changes A7         | Dmaj7         | B7/D#                  | % | <Em7*3 A7b9! |
ossia              | .             | F7                     | . | .            |
soloist            | .             | C7                     | . | .            |
melody  q {G#4} A4 | h F#5~ F#5    | q [3:2 D#5 E5 F#5] h r | . | w E5         |
lyrics  oh         | sea           | and _ sky              | . | now          |
long               | F#5           | D#5                    | . | E5 C#5       |
bass               | w D3          | D#3                    | . | .            |
hits               | q. x e X~ h X | .                      | . | .            |
marks              | segno         | .                      | . | D.S.         |

key     G major
changes | G | D7 |
)");
}
