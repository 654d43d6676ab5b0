// compiler/syntax/parse_tune.cpp, tidy.cpp, dump.cpp: what a text means, whole, in a form that a person can
// read.
#include "syntax/dump.h"
#include "syntax/tidy.h"
#include "unit/syntax/reading.h"

using namespace relead;
using namespace relead::syntax;
using relead::syntax::testing::read;

namespace {

const char* const untidy = R"(-- version "mild" 3f9a21c0

TUNE "Ferry \"Late\""   -- working title
running Head 2 times|Solos open, each soloist, written changes| Head, tag A:3-4 2 times last
key   F   major
by "M. Okafor-Lind"
-- the bridge is missing
form A A
meter 4/4
tempo 148 Swing "easy"

section A "The crossing"
-- first line
changes C7 |: Fmaj7 / D7*2 | <Gm7 >C7! :||: % | [1-2 Bb7 ] [Last F6 :|*3 ] || -- twice
melody e C5 B♭4 | q. (A4 e {D5 E5} F5) [3:2 q C5~ C5 D5] | ? | . | w r | F4 |
lyrics . | Fer- ry "to the" _ | . | . | . | home |
hits | . | q. x X~ r | . | . | w X |
marks | segno "fill" | . | D.S. AL coda a tempo | . | . |

key D dorian
meter 7/8 2+2+3
changes | Dm7 |
bass | h D2 q. D2 |

plan "mild" for soloist on solos
use tritone,related-ii
hold A:1-2, A:3.2+1/2
at most 1 changes in the tune
never tritone at A:4
never at A:5 -- the band wants it
chords last at least 1/2 s
-- the end
)";

}  // namespace

TEST_CASE("A whole tune as a tree", "[syntax]") {
    const auto reading = read(untidy);
    CHECK(testing::codes(reading.diagnostics) == "");
    const auto& cells = reading.tree.sections[0].groups[0].rows[0].cells;
    REQUIRE(cells.size() == 5);
    CHECK(cells[0].signs.repeat_begins);
    CHECK(cells[0].chords[1].kind == ChordWord::Kind::slash);
    CHECK(cells[0].chords[2].beats == Beats(2));
    CHECK(cells[1].chords[0].push == Push::eighth_early);
    CHECK(cells[1].chords[1].push == Push::eighth_late);
    CHECK(cells[1].chords[1].locked);
    CHECK(cells[1].signs.repeat_ends == 2);
    CHECK(cells[2].signs.repeat_begins);
    CHECK(cells[3].signs.ending_begins == std::vector<int>{1, 2});
    CHECK(cells[3].signs.ending_ends);
    CHECK(cells[4].signs.ending_begins == std::vector<int>{0});
    CHECK(cells[4].signs.repeat_ends == 3);
    CHECK(cells[4].signs.double_bar_after);
    const auto& melody = reading.tree.sections[0].groups[0].rows[1];
    REQUIRE(melody.pickup);
    CHECK(theory::to_string(melody.pickup->notes[1].pitch) == "Bb4");
    CHECK(melody.cells[0].notes[0].slurs_begin == 1);
    CHECK(melody.cells[0].notes[1].grace.size() == 2);
    CHECK(melody.cells[0].notes[2].tuplets_begin.size() == 1);
    CHECK(melody.cells[0].notes[2].tied);
    CHECK(melody.cells[0].notes[4].tuplets_end == 1);
    CHECK(reading.tree.sections[0].groups[1].first_bar == 6);
    CHECK(reading.tree.plans[0].lines[1].places[1].beat == Beats(5, 2));
    CHECK(reading.source.slice(reading.tree.plans[0].lines[1].places[1].span) == "A:3.2+1/2");
}

TEST_CASE("The same tune, tidied", "[syntax]") {
    CHECK(tidy(read(untidy).tree) == R"(-- version "mild" 3f9a21c0

tune    "Ferry \"Late\""  -- working title
by      "M. Okafor-Lind"
key     F major
meter   4/4
tempo   148 swing "easy"
-- the bridge is missing
form    A A
running Head 2 times | Solos open, each soloist, written changes | Head last, tag A:3-4 2 times

section A "The crossing"
-- first line
changes C7       |: Fmaj7 / D7*2                           | <Gm7 >C7! :|: %                    | [1,2 Bb7 ] [last F6   :|*3 ] ||  -- twice
melody  e C5 Bb4 |  q. (A4 e {D5 E5} F5) q [3:2 C5~ C5 D5] | ?         |   .                    |      w r |       F4   |
lyrics           |  Fer- ry "to the" _                     | .         |   .                    |      .   |       home |
hits             |  .                                      | q. x X~ r |   .                    |      .   |       w X  |
marks            |  segno "fill"                           | .         |   D.S. al coda a tempo |      .   |       .    |

key     D dorian
meter   7/8 2+2+3
changes | Dm7        |
bass    | h D2 q. D2 |

plan "mild" for soloist on solos
  use tritone, related-ii
  hold A:1-2, A:3.2+1/2
  at most 1 change in the tune
  never tritone at A:4
  never at A:5  -- the band wants it
  chords last at least 0.5 s

-- the end
)");
}

TEST_CASE("A section may have the name of a row, and keywords any case", "[syntax]") {
    const auto reading = read("Tune \"T\"\nFORM melody\nSection melody\nChanges | C |\nMelody | w C5 |\n");
    CHECK(testing::codes(reading.diagnostics) == "");
    CHECK(dump(reading.tree) ==
          "tune \"T\"\n"
          "form melody\n"
          "section melody\n"
          "  group from bar 1\n"
          "    row changes\n"
          "      cell\n"
          "        chord C\n"
          "    row melody\n"
          "      cell\n"
          "        note w C5\n");
}

TEST_CASE("Reading goes on after errors", "[syntax]") {
    const auto reading = read(
        "tune \"T\"\nkey Q major\nsection A\nchanges | C | [x F ] | G7*z | C |\nmelody | w c5 | D5 "
        "|\nblah\nsection B\nchanges | F |\n");
    CHECK(testing::codes(reading.diagnostics) ==
          "key-unreadable ending-unreadable beats-unreadable note-unreadable row-missing-cell line-unknown");
    REQUIRE(reading.tree.sections.size() == 2);
    CHECK(reading.tree.sections[0].groups[0].rows[1].cells.size() == 4);
    CHECK(reading.tree.sections[1].groups[0].rows[0].cells[0].chords[0].symbol == "F");
}
