#include "voicing/chord_walk.h"

#include <algorithm>
#include <cstdlib>
#include <string>

#include "support/catch.h"
#include "support/small_tunes.h"
#include "unit/voicing/rows.h"
#include "voicing/guide_line.h"

using namespace relead;

namespace {

/// "Dm7 G7 x2 | Cmaj7 x1" and the joints as "0>1 x2".
std::string runs_text(const voicing::ChordWalk& walk) {
    std::string text;
    for (const auto& run : walk.runs) {
        if (!text.empty()) text += "| ";
        for (int i = run.first; i < run.last; ++i)
            text += theory::to_string(walk.chords[static_cast<std::size_t>(i)]) + " ";
        text += "x" + std::to_string(run.plays) + " ";
    }
    return text;
}

std::string joints_text(const voicing::ChordWalk& walk) {
    std::string text;
    for (const auto& joint : walk.joints)
        text += std::to_string(joint.from) + ">" + std::to_string(joint.to) + " x" +
                std::to_string(joint.times) + " ";
    return text;
}

}  // namespace

TEST_CASE("runs and joints of a form") {
    struct Row {
        const char* what;
        const char* text;
        const char* runs;
        const char* joints;
    };
    const Row row = GENERATE(values<Row>({
        {"one section that turns round", "section A\nchanges | Dm7 | G7 | Cmaj7 | % |\n",
         "Dm7 G7 Cmaj7 Cmaj7 x1 ", "0>0 x1 "},
        {"A A B A", "form A A B A\nsection A\nchanges | Cmaj7 | G7 |\nsection B\nchanges | Em7 | A7 |\n",
         "Cmaj7 G7 x3 | Em7 A7 x1 ", "0>0 x2 0>1 x1 1>0 x1 "},
        {"endings", "section A\nchanges |: Dm7 | [1 G7 ] :| [2 C6 ] |\n", "Dm7 x2 | G7 x1 | C6 x1 ",
         "0>1 x1 0>2 x1 1>0 x1 2>0 x1 "},
        {"an intro outside the form",
         "form A\nrunning Intro | Head | Head last\nsection Intro\nchanges | Bb7 |\nsection A\nchanges | "
         "Cmaj7 | "
         "Fmaj7 |\n",
         "Bb7 x1 | Cmaj7 Fmaj7 x1 ", "0>1 x1 1>1 x1 "},
    }));
    INFO(row.what);
    const auto tune = testing::read_whole(std::string("tune \"T\"\nkey C major\nmeter 4/4\n") + row.text);
    const auto walk = voicing::walk_chords(tune);
    CHECK(runs_text(walk) == row.runs);
    CHECK(joints_text(walk) == row.joints);
    CHECK(walk.refs.size() == walk.chords.size());
}

TEST_CASE("a section that is played in several places has one line that serves them all") {
    // By itself the A would start where Cmaj7 lies nearest; every way into it counts.
    const auto tune = testing::read_whole(
        "tune \"T\"\nkey C major\nmeter 4/4\nform A A B A\n"
        "section A\nchanges | Cmaj7 | Am7 | Dm7 | G7 |\nsection B\nchanges | Em7b5 | A7 | Ebm7 | Ab7 |\n");
    const auto walk = voicing::walk_chords(tune);
    const auto line = voicing::guide_line(walk);
    CHECK(line.exact);
    REQUIRE(line.pairs.size() == 8);
    const auto weights = voicing::guide_line_weights();
    int cost = 0;
    for (std::size_t i = 0; i < walk.chorus.size(); ++i) {
        const auto& here = *line.pairs[static_cast<std::size_t>(walk.chorus[i])];
        const auto next = static_cast<std::size_t>(walk.chorus[(i + 1) % walk.chorus.size()]);
        const int middle = theory::midi_number(here.lower.pitch) + theory::midi_number(here.upper.pitch);
        const int off = std::abs(middle - weights.where.low - weights.where.high);
        cost += weights.motion * voicing::semitones_between(here, *line.pairs[next]);
        cost += weights.drift * std::max(0, off - 2 * weights.free);
    }
    CHECK(line.cost == cost);
}
