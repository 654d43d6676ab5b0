// compiler/rules/rounds.cpp: vamps and sequences. What is one is common practice, no source.
#include "rules/rounds.h"

#include <string>

#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

/// "A:1 4x2 +0": from bar 1 of A four rounds of two bars, on the same degree.
std::string rounds_of(const tune::Tune& tune) {
    const auto reading = testing::plain_reading(tune);
    const auto chart = rules::make_chart(tune, reading);
    std::string text;
    for (const auto& run : rules::find_rounds(chart)) {
        text += (text.empty() ? "" : ", ") + rules::place_name(chart, run.begin(0)) + " " +
                std::to_string(run.size()) + "x" + std::to_string(run.bars) + " +" +
                std::to_string(run.interval);
        // Every round begins a bar, so many bars after the one before.
        for (int i = 0; i < run.size(); ++i) {
            CHECK(chart.at(run.begin(i)).ref.chord == 0);
            CHECK(chart.at(run.begin(i)).ref.bar == chart.at(run.begin(0)).ref.bar + i * run.bars);
            CHECK(chart.at(run.end(i) - 1).ref.bar == chart.at(run.begin(i)).ref.bar + run.bars - 1);
        }
    }
    return text;
}

struct Case {
    const char* what;
    const char* changes;
    const char* rounds;
};

const Case cases[] = {
    {"a vamp of two bars", "Dm7 | G7 | Dm7 | G7 | Dm7 | G7 | Dm7 | G7", "A:1 4x2 +0"},
    {"a vamp of one bar", "C6 Am7 | C6 Am7 | C6 Am7 | F7", "A:1 3x1 +0"},
    {"a vamp of four bars", "Cm7 | Cm7 | Cm7 | F7 | Cm7 | Cm7 | Cm7 | F7 | Cm7 | Cm7 | Cm7 | F7",
     "A:1 3x4 +0"},
    {"a vamp that begins after something else", "Bb7 | Dm7 | G7 | Dm7 | G7 | Dm7 | G7 | F6", "A:2 3x2 +0"},
    {"what is left of a round", "Dm7 | G7 | Dm7 | G7 | Dm7 | G7 | Dm7 | F6", "A:1 3x2 +0"},
    {"by fourths, two bars each", "D7 | D7 | G7 | G7 | C7 | C7 | F7 | F7", "A:1 4x2 +5"},
    {"by fourths, a bar each", "E7 | A7 | D7 | G7 | Cmaj7 | Cmaj7", "A:1 4x1 +5"},
    {"by whole steps down", "Em7 A7 | Dm7 G7 | Cm7 F7 | Bbmaj7", "A:1 3x1 +10"},
    {"by half steps up, in slash chords too", "C/E F6 | Db/F Gb6 | D/F# G6 | G7", "A:1 3x1 +1"},
    {"colours of one class", "D7 | D9 | G13 | G7 | C7 | C7b9", "A:1 3x2 +5"},
    {"two units are none", "Dm7 | G7 | Dm7 | G7 | Em7 | A7", ""},
    {"the interval changes", "C7 | F7 | G7 | C7", ""},
    {"another class", "Em7 A7 | Dm7 G7 | Cm7 Fm7", ""},
    {"another bass", "C6 G7 | C6 G7 | C6 G7/B", ""},
    {"another rhythm", "C6*3 G7*1 | C6*3 G7*1 | C6*2 G7*2", ""},
    {"a chord that stays", "Cm7 | Cm7 | Cm7 | Cm7 | Cm7 | Cm7", ""},
    {"no chord, no round", "N.C. | N.C. | N.C. | N.C.", ""},
    {"two runs", "E7 | A7 | D7 | G7 | C6 F7 | C6 F7 | C6 F7 | C6", "A:1 4x1 +5, A:5 3x1 +0"},
    {"a short run before a long one", "F#7 | B7 | E7 | A7 | C6 | C6 | D7 | D7 | G7 | G7 | C7 | C7",
     "A:1 4x1 +5, A:7 3x2 +5"},
    {"three single chords are a cadence", "Em7 | Am7 | Dm7 | G7 | F7 | C7 | G7 | C6", ""},
    {"the longer one, and in step with the section", "E7 | A7 | D7 | D7 | G7 | G7 | C7 | C7", "A:3 3x2 +5"},
};

}  // namespace

TEST_CASE("Rounds are units that are written alike, on one degree or a constant interval apart", "[rules]") {
    for (const auto& one : cases) {
        INFO(one.what);
        CHECK(rounds_of(testing::small_tune("C major", one.changes)) == one.rounds);
    }
}

TEST_CASE("Rounds do not reach over the end of a section, over a repeat or into an ending", "[rules]") {
    const auto tune_of = [](const std::string& sections) {
        return testing::read_whole("tune \"T\"\nkey C major\nmeter 4/4\ntempo 120 swing\nform A B\n" +
                                   sections);
    };
    CHECK(rounds_of(tune_of("section A\nchanges | C6 | Dm7 G7 | Em7 A7 |\n"
                            "section B\nchanges | Em7 A7 | Em7 A7 | C6 |\n"))
              .empty());
    CHECK(rounds_of(tune_of("section A\nchanges |: Em7 A7 | Dm7 G7 :| Cm7 F7 | Bb6 |\n"
                            "section B\nchanges | C6 | C6 |\n"))
              .empty());
    CHECK(rounds_of(tune_of("section A\nchanges |: C6 F7 | C6 F7 | [1 C6 F7 :| ] [2 C6 F7 ] | Bb6 |\n"
                            "section B\nchanges | C6 | C6 |\n"))
              .empty());
    CHECK(rounds_of(tune_of("section A\nchanges | C6 | Dm7 G7 |\n"
                            "section B\nchanges | C6 F7 | C6 F7 | C6 F7 | C6 |\n")) == "B:1 3x1 +0");
}

TEST_CASE("Rounds are the same in every key", "[rules]") {
    for (const auto& one : cases) {
        const auto tune = testing::small_tune("C major", one.changes);
        for (const int fifths : {-5, -1, 4, 6}) {
            INFO(one.what << " in the key of " << theory::to_string(theory::NoteName{fifths}));
            CHECK(rounds_of(tune::transpose_to(tune, theory::NoteName{fifths})) == one.rounds);
        }
    }
}
