// compiler/reharm/kept_places.cpp: what may not be lost in a free choice, and what counts as the same
// function.
#include "reharm/kept_places.h"

#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// How many kept places are lost by the placement that `rule` gives at bar `bar` of section A or, when there
/// is one, of section B; -1 where it gives none.
int lost(const tune::Tune& tune, const std::string& rule, int bar) {
    const auto& all = rules::built_in_rules();
    reharm::Wish wish;
    wish.outside = 5;
    wish.use = {rule};
    const auto plan = reharm::bind_plan(tune, all, wish);
    REQUIRE(plan.clean());
    const auto chart = reharm::chart_for(*plan.value, tune, testing::plain_reading(tune));
    const reharm::Situation situation{tune, chart, all, *plan.value};
    reharm::PoolWish pool_wish;
    pool_wish.depth = 1;
    int found = -1;
    for (const auto& judged : reharm::build_pool(situation, pool_wish).placements) {
        const auto& last = chart.at(judged.placement.end - 1);
        if (last.bar_number != bar || last.ref.section + 1 != static_cast<int>(tune.sections.size()))
            continue;
        found = std::max(found, reharm::places_lost(chart, judged.placement));
    }
    return found;
}

struct Row {
    const char* why;
    const char* key;
    const char* changes;
    const char* rule;
    int bar;
    int lost;
};

// Common practice, no source.
const Row rows[] = {
    {"the dominant before the last tonic is left to a backdoor", "C major",
     "Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7", "backdoor-dominant", 8, 1},
    {"a tonic that is said again arrives with the first of its bars", "C major",
     "Cmaj7 | A7 | Dm7 | G7 | Dm7 | G7 | Cmaj7 | Cmaj7", "backdoor-dominant", 6, 1},
    {"a substitute does what the dominant does", "C major",
     "Cmaj7 | A7 | Dm7 | G7 | Dm7 | G7 | Cmaj7 | Cmaj7", "tritone", 6, 0},
    {"the tune does not end on a way out of its last chord", "C major",
     "Cmaj7 | A7 | Dm7 | G7 | Em7 A7 | Dm7 | G7 | Cmaj7", "passing-dim-from-tonic", 8, 1},
    {"in the middle of the tune nothing is kept", "C major",
     "Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7", "backdoor-dominant", 4, 0},
};

}  // namespace

TEST_CASE("places that a free choice keeps", "[reharm]") {
    for (const auto& row : rows) {
        INFO(row.why);
        CHECK(lost(testing::small_tune(row.key, row.changes), row.rule, row.bar) == row.lost);
    }
}

TEST_CASE("the arrival in a key that a section states keeps its tonic", "[reharm]") {
    const auto lost_in = [](const std::string& section_key, const std::string& rule, int bar) {
        return lost(testing::read_whole("tune \"Lock\"\nkey Db major\nmeter 4/4\ntempo 120\nform A B\n\n"
                                        "section A\nchanges | Dbmaj7 | Bbm7 | Ebm7 | Ab7 |\n\nsection B\n" +
                                        section_key +
                                        "changes | F#m7 | B7 | Emaj7 | F#m7 | B7 | Emaj7 | Ebm7 | Ab7 |\n"),
                    rule, bar);
    };
    // Not even iii stands for it there; the second time it is a tonic like others.
    CHECK(lost_in("key E major\n", "three-for-one", 3) == 1);
    CHECK(lost_in("key E major\n", "three-for-one", 6) == 0);
    CHECK(lost_in("", "three-for-one", 3) == 0);
}

TEST_CASE("the last chorus comes home in its own ending and stays there", "[reharm]") {
    const auto tune = testing::read_whole(
        "tune \"Last\"\nkey Bb major\nmeter 4/4\ntempo 120\nform A\n\nsection A\n"
        "changes | Bb6 | G7 | Cm7 | F7 | [1 Bb6 | Cm7 F7 ] [last Bb6 | Bb6 ] |\n");
    const auto reading = testing::plain_reading(tune);
    const auto chart = rules::make_chart(tune, reading);
    const auto cadence = reharm::last_cadence(chart);
    std::string homes, leading;
    for (const int spot : cadence.homes) homes += rules::place_name(chart, spot) + " ";
    for (const int spot : cadence.leading) leading += rules::place_name(chart, spot) + " ";
    CHECK(homes == "A:5 A:7 A:8 ");
    CHECK(leading == "A:4 ");
}
