// compiler/reharm/describe.cpp: what of a change a reader is shown.
#include "reharm/describe.h"

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "report/change_table.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// The one change that `rule` makes where the plan takes it in bar `bar`; it touches `chords` written ones.
reharm::Version take(const std::string& changes, const std::string& rule, const std::string& bar,
                     int chords = 1) {
    const auto tune = testing::small_tune("C major", changes, {},
                                          "plan \"p\" for band\n  outside 3\n  use " + rule + "\n  take " +
                                              rule + " at A:" + bar + "\n  at most " +
                                              std::to_string(chords) + " changes in the tune\n");
    auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), {});
    REQUIRE(outcome.value.has_value());
    REQUIRE(outcome.value->versions.front().changes.size() == 1);
    return outcome.value->versions.front();
}

}  // namespace

TEST_CASE("chords at the ends of a change that stay are not shown as changed", "[reharm]") {
    // The rule speaks of both bars of C; the first of them stays.
    const auto walk = take("Cmaj7 | Cmaj7 | Dm7 | G7 | Cmaj7", "walk-down-to-two", "1");
    const auto row = report::change_table(walk).front();
    CHECK(row.place == "A:2");
    CHECK(row.old_changes == "Cmaj7");
    CHECK(row.new_changes == "Fmaj7 Em7");
    CHECK(walk.changes.front().new_beats == std::vector<Beats>{2, 2});
    CHECK(walk.changes.front().first.bar == 1);
    REQUIRE(walk.changes.front().previous.has_value());
    CHECK(theory::to_string(*walk.changes.front().previous) == "Cmaj7");

    // Of a chord that is written over four bars the last two change: the others go on as they are.
    const auto late = report::change_table(take("Fmaj7 | Cmaj7 | Cmaj7 | Cmaj7 | Cmaj7 | Dm7 | G7 | Cmaj7",
                                                "tonic-turns-minor", "2", 2))
                          .front();
    CHECK(late.place == "A:4");
    CHECK(late.old_changes == "Cmaj7 Cmaj7");
    CHECK(late.new_changes == "Cm7");

    // ii and V are found; only the ii takes another bass, and its guide tones go to the V.
    const auto over = report::change_table(take("Cmaj7 | Dm7 | G7 | Cmaj7", "two-over-five", "2")).front();
    CHECK(over.old_changes == "Dm7");
    CHECK(over.new_changes == "Dm7/G");
    CHECK(over.new_motion == "F held, C>B");
}

TEST_CASE("a dominant that comes right after the change says where it leads", "[reharm]") {
    const auto version = take("Cmaj7 | Dm7 | G7 | Cmaj7 | Fmaj7", "half-diminished-two", "2");
    const auto& change = version.changes.front();
    CHECK(theory::to_string(change.new_chords.back()) == "Dm7b5");
    REQUIRE(change.next.has_value());
    CHECK(theory::to_string(*change.next) == "G7");
    REQUIRE(change.goal.has_value());
    CHECK(theory::to_string(*change.goal) == "Cmaj7");
}

TEST_CASE("a new dominant leads to the chord that it falls to, also inside the change", "[reharm]") {
    const auto goal = [](const reharm::Version& version) {
        const auto& change = version.changes.front();
        const auto& chord = change.goal ? change.goal : change.next;
        REQUIRE(chord.has_value());
        return theory::to_string(*chord);
    };
    CHECK(goal(take("Cmaj7 | Fmaj7 | G7 | Cmaj7", "half-step-approach-dominant", "3")) == "G7");
    CHECK(goal(take("Cmaj7 | Dm7 | G7 | Cmaj7", "made-dominant", "2")) == "G7");
    CHECK(goal(take("Cmaj7 | Cmaj7 | G7 | Cmaj7", "related-ii", "3")) == "Cmaj7");
}

TEST_CASE("a reason counts a chord of several bars once", "[reharm]") {
    const auto version = take("Cm7 | Dm7b5 | Dm7b5 | G7 | Cm7", "minor-blues-flat-six", "2");
    CHECK(version.changes.front().reason.rfind("Ab7 stands a half step above G7 and slides into it;", 0) ==
          0);
}
