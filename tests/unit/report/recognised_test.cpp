// compiler/report/recognised.cpp: one thing for the chords that make it together.
#include "report/recognised.h"

#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// "turnaround 0-3; related ii of D7 1": what was recognised in four bars a row, in reading order.
std::string recognised(const std::string& key, const std::string& changes) {
    const auto tune = testing::small_tune(key, changes);
    const auto explanation = report::explain(tune, analysis::analyse(tune));
    std::string text;
    for (const auto& thing : explanation.recognised) {
        text += (text.empty() ? "" : "; ") + thing.what + " " + std::to_string(thing.first);
        if (thing.stretch) text += "-" + std::to_string(thing.last);
    }
    return text;
}

}  // namespace

TEST_CASE("a stretch is one thing, and two in turn are two") {
    // All common practice, no source.
    CHECK(recognised("C major", "Cmaj7 | Dm7 | G7 | Cmaj7 | F6 | F6 | C6 Am7 | Dm7 G7") == "turnaround 6-9");
    CHECK(recognised("C major", "Cmaj7 | Dm7 | G7 | Cmaj7 | F6 | F6 | C/G G7 | Cmaj7").empty());
    CHECK(recognised("C major", "C6 | F6 | C6 | C6 | C6 A7 | Dm7 G7 | C6 Eb7 | Abmaj7 Db7") ==
          "turnaround 4-7; turnaround 8-11; borrowed 10; substitute dominant 11");
    CHECK(recognised("A minor", "Am Am(maj7) | Am7 Am6 | Dm Dm(maj7) | Dm7 Dm6 | Bm7b5 | E7 | Am | Am") ==
          "line cliché 0-3; line cliché 4-7");
    CHECK(recognised("C major", "Cmaj7 | Am7 | Dm7/G | F/G | G7 | G7 | Cmaj7 | Cmaj7") == "over a pedal 2-4");
}

TEST_CASE("single chords say what their numeral does not") {
    CHECK(recognised("C major", "Cmaj7 | Am7 D7 | Dm7 G7 | Cmaj7") == "related ii of D7 1");
    CHECK(recognised("C major", "Cmaj7 | Fm7 Bb7 | Cmaj7 | Cmaj7") == "related ii of Bb7 1; backdoor 2");
    CHECK(recognised("C major", "Cmaj7 | Dm7 | G7 | Abmaj7") == "deceptive, to Abmaj7 2; borrowed 3");
    CHECK(recognised("C major", "C6 | Cdim7 | C6 | C6") == "common-tone diminished 1");
}
