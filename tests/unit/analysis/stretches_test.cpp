// compiler/analysis/stretches.cpp and satellites.cpp: modal stretches, pedals, lines, planing, turnarounds.
#include "analysis/satellites.h"
#include "support/catch.h"
#include "unit/analysis/told.h"

using namespace relead;
using analysis::ChordFact;
using testing::analysed;

namespace {

struct Row {
    std::string what, key, changes, marked;  ///< indices of the chords that are marked
};

void check_rows(bool ChordFact::*flag, const std::vector<Row>& rows) {
    for (const auto& row : rows) {
        INFO(row.what << ", " << row.key << ": " << row.changes);
        CHECK(testing::chords_with(analysed(row.key, row.changes), flag) == row.marked);
    }
}

std::string times(int count, const std::string& bar) {
    std::string row = bar;
    for (int i = 1; i < count; ++i) row += " | " + bar;
    return row;
}

std::string range(int first, int last) {
    std::string text = std::to_string(first);
    for (int i = first + 1; i <= last; ++i) text += " " + std::to_string(i);
    return text;
}

}  // namespace

// Common practice, no source: eight bars of one chord, or of two in turn without a dominant.
TEST_CASE("modal stretches") {
    check_rows(
        &ChordFact::in_modal_stretch,
        {
            {"sixteen bars of one minor seventh, eight a half step up, eight back", "D dorian",
             times(16, "Dm7") + " | " + times(8, "Ebm7") + " | " + times(8, "Dm7"), range(0, 31)},
            {"seven bars are too few", "D minor", "Am7 | " + times(7, "Dm7") + " | A7", ""},
            {"under a mode four are enough", "D dorian",
             times(4, "Fm7") + " | Ebmaj7 | Ebmaj7 | A7sus4 | A7sus4", range(0, 3)},
            {"three are not", "D dorian", times(3, "Fm7") + " | Bb7 | Ebmaj7 | Ebmaj7 | A7sus4 | A7sus4", ""},
            {"two chords in turn", "D dorian", times(4, "Dm7 | Em7"), range(0, 7)},
            {"two in turn, one a dominant", "D minor", times(4, "Dm7 | A7"), ""},
            {"two in turn for four bars", "D dorian", times(2, "Dm7 | Em7") + " | Gm7 | C7 | Fmaj7 | A7", ""},
            {"a suspended chord that stays", "open", "Dm7 | Dm7 | A7 | Dm7 | " + times(8, "F7sus4"),
             range(4, 11)},
            {"a major tonic that stays is at rest", "F major", times(8, "Fmaj7") + " | Gm7 | C7 | Fmaj7 | C7",
             ""},
            {"I7 of a blues is at rest", "C blues",
             times(8, "C7") + " | F7 | F7 | C7 | C7 | G7 | F7 | C7 | C7", ""},
        });
    const std::string lydian = times(4, "Fmaj7#11") + " | " + times(4, "Ebmaj7#11");
    const std::string two_levels = times(4, "Gm7") + " | " + times(4, "Am7");
    check_rows(
        &ChordFact::in_modal_stretch,
        {
            {"levels of one sound, no key", "", lydian, range(0, 7)},
            {"levels of one sound in a major key", "F major", lydian, range(0, 7)},
            {"three bars are no level", "F major",
             times(3, "Fmaj7#11") + " | " + times(3, "Ebmaj7#11") + " | Gm7 | C7", ""},
            {"another sound is none", "F major", times(4, "Fmaj7") + " | " + times(4, "Ebm7"), ""},
            {"a fifth apart they are I and IV", "F major", times(4, "Fmaj7") + " | " + times(4, "Bbmaj7"),
             ""},
            {"dominants lead on", "F major", times(4, "G7") + " | " + times(4, "E7"), ""},
            {"what its dominant brings is a goal", "F major",
             times(4, "Fmaj7") + " | " + times(4, "Ebmaj7") + " | Gm7 | Gm7 | C7 | C7", ""},
            {"the last is the ii of a dominant", "F major", two_levels + " | D7 | D7 | Gm7 | C7", ""},
            {"both stay where it is none", "F major", two_levels + " | F6 | Dm7 | F6 | C7", range(0, 7)},
            {"the third of them is a ii", "F major",
             two_levels + " | " + times(4, "Bm7") + " | E7 | E7 | A7 | C7", range(0, 7)},
        });
    for (const auto& fact : analysed("F major", lydian).chords)
        CHECK(fact.function == analysis::Function::modal);
    const auto stretch = analysed("D dorian", times(8, "Dm7") + " | " + times(8, "Ebm7"));
    for (const auto& fact : stretch.chords) CHECK(fact.function == analysis::Function::modal);
}

// Open Music Theory v2, "Pedal points": one bass under changing chords.
TEST_CASE("pedal points") {
    check_rows(&ChordFact::over_pedal,
               {
                   {"dominant in the bass for four bars", "C major", "C | Dm7/G | G7 | C/G | G7 | C | C | C",
                    "1 2 3 4"},
                   {"tonic in the bass", "Eb major", "Ebmaj7 | Fm7/Eb | Ebmaj7 | Bb7", "0 1 2"},
                   {"one chord above its own root", "C major", "C | G7 | G7 | C", ""},
                   {"an inversion between other basses", "C major", "C | C/E | Fmaj7 | G7", ""},
                   {"the bass moves away and comes back", "C major", "G7 | C/E | G7 | C", ""},
               });
}

// Common practice, no source: one minor chord whose upper voice falls by half steps.
TEST_CASE("line cliches") {
    check_rows(&ChordFact::line_cliche,
               {
                   {"falling from the root", "C minor", "Cm Cm(maj7) | Cm7 Cm6 | Fm7 | G7", "0 1 2 3"},
                   {"from the major seventh", "C minor", "Cm(maj7) Cm7 | Cm6 | Dm7b5 | G7", "0 1 2"},
                   {"one minor chord again", "C minor", "Cm7 Cm7 | Cm7 Cm7 | Dm7b5 | G7", ""},
                   {"a ii in another shade is no line", "Bb major", "Cm7 Cm6 | F7 | Bbmaj7 | Bbmaj7", ""},
               });
}

// Common practice, no source: one sound moved along by equal steps.
TEST_CASE("planing") {
    check_rows(
        &ChordFact::planing,
        {
            {"major sevenths by whole steps", "C major", "Cmaj7 | Bbmaj7 | Abmaj7 | Gbmaj7", "0 1 2 3"},
            {"minor sevenths by half steps", "D dorian", "Dm7 | Ebm7 | Em7 | A7", "0 1 2"},
            {"two are not enough", "C major", "Cmaj7 | Dbmaj7 | Fmaj7 | G7", ""},
            {"unequal steps", "C major", "Cmaj7 | Bbmaj7 | Amaj7 | Gmaj7", ""},
            {"dominants in fifths", "C major", "E7 | A7 | D7 | G7", ""},
            {"dominants falling by half steps", "C major", "Eb7 | D7 | Db7 | Cmaj7", ""},
        });
}

// Wikipedia, Turnaround: I VI II V, iii VI II V, I bIII bVI bII in the last two bars of a part.
TEST_CASE("turnarounds") {
    const std::string six = "C | Am7 | Dm7 | G7 | C | F | ";
    check_rows(&ChordFact::turnaround,
               {
                   {"I vi ii V", "C major", six + "C Am7 | Dm7 G7", "6 7 8 9"},
                   {"I VI7 II7 V7", "C major", six + "C A7 | D7 G7", "6 7 8 9"},
                   {"iii VI7 ii V", "C major", six + "Em7 A7 | Dm7 G7", "6 7 8 9"},
                   {"I bIII7 bVI7 bII7", "C major", six + "C Eb7 | Ab7 Db7", "6 7 8 9"},
                   {"I #i°7 ii V", "C major", six + "C C#dim7 | Dm7 G7", "6 7 8 9"},
                   {"the tonic stays", "C major", six + "C | C", ""},
                   {"ii V alone", "C major", six + "C | Dm7 G7", "6 7 8"},
               });
    // Inside a part it comes home (Wikipedia, Turnaround: it leads to the next section): the blues of bars 7
    // to 9 goes to ii, bars 7 and 8 of the second row to IV.
    const std::string blues = "F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | Am7 D7 | Gm7 | C7 | ";
    const std::string half = "C | Am7 | Dm7 | G7 | C | F | ";
    check_rows(
        &ChordFact::turnaround,
        {
            {"to ii of a blues", "F blues", blues + "F7 D7 | Gm7 C7", "11 12 13 14"},
            {"to IV", "C major", half + "C | Gm7 C7 | F | Fm6 | C | C | Dm7 | G7 | C | C", ""},
            {"to iii", "C major", half + "C A7 | Dm7 G7 | Em7 | A7 | Dm7 | G7 | F | F | C | C", "6 7 8 9"},
            {"back to a top on ii", "C major", "Dm7 | G7 | C | C | Dm7 | G7 | C | Em7b5 A7", "6 7 8"},
            {"of the substitute", "C major", half + "C | Dm7 Db7 | Am7 | Am7 | F | Fm6 | C | C", "6 7 8"},
        });
    // The part is played again, and the bridge is on IV.
    const auto again =
        analysis::analyse(testing::read_whole("tune \"Again\"\nkey C major\nmeter 4/4\nform A A B\n\nsection "
                                              "A\nchanges | Dm7 | G7 | C | Em7b5 A7 |\n\n"
                                              "section B\nchanges | F | Fm6 | C | Gm7 C7 |\n"));
    CHECK(testing::chords_with(again, &ChordFact::turnaround) == "2 3 4 7 8 9");
}

TEST_CASE("colours hang on the chord that they colour") {
    struct Case {
        std::string what, changes;
        std::vector<int> hosts;
    };
    const Case cases[] = {
        {"moving seventh, in pairs by bars", "Cm Cm(maj7) | Cm7 Cm6 | Fm7 | G7", {-1, 0, 0, 2, -1, -1}},
        {"moving seventh, a bar each", "Cm | Cm(maj7) | Cm7 | Cm6", {-1, 0, -1, -1}},
        {"moving seventh, then a bar", "Cm(maj7) Cm7 | Cm6 | Fm7 | G7", {-1, 0, 0, -1, -1}},
        {"common-tone diminished", "F | F#dim7 | C/G | G7", {-1, 0, -1, -1}},
        {"common-tone diminished, and back", "C | C#dim7 | C | G7", {-1, 0, -1, -1}},
        {"passing diminished is none", "F | F#dim7 | G7 | C", {-1, -1, -1, -1}},
        {"a bar written again", "C | % | F | G7", {-1, 0, -1, -1}},
        {"a chord written again is none", "C | C | F | G7", {-1, -1, -1, -1}},
        {"seventh falls to the sixth", "Cmaj7 C6 | F | G7 | C", {-1, 0, -1, -1, -1}},
        {"sixth rises to the seventh is none", "C6 Cmaj7 | F | G7 | C", {-1, -1, -1, -1, -1}},
        {"sixth two bars later is none", "Cmaj7 | % | C6 | G7", {-1, 0, -1, -1}},
        {"ii in another shade is none", "Dm7 Dm6 | G7 | C | C", {-1, -1, -1, -1, -1}},
    };
    for (const auto& row : cases) {
        INFO(row.what << ": " << row.changes);
        const auto tune = testing::small_tune("C major", row.changes);
        CHECK(analysis::satellites(analysis::hear(tune)) == row.hosts);
    }
}
