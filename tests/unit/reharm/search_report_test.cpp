// compiler/reharm/search.cpp, version.cpp: the search says of itself what it did, and nothing more.
#include <numeric>

#include "reharm/plan_binding.h"
#include "reharm/search.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;
using Stop = reharm::SearchReport::Stop;

namespace {

const std::string counted = "  at most 2 changes in the tune\n";

tune::Tune with_plan(const std::string& lines) {
    return testing::small_tune("C major", "Cmaj7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 G7 | Cmaj7", {},
                               "plan \"p\" for band\n  outside 4\n" + lines);
}

/// A and B may follow either: three joints remember an end.
tune::Tune with_joints() {
    return testing::read_whole(
        "tune \"Joints\"\nkey C major\nmeter 4/4\ntempo 120\nform A A B A\n\nsection A\n"
        "changes | Cmaj7 A7 | Dm7 G7 |\n\nsection B\nchanges | Em7 A7 | Dm7 G7 |\n\nplan \"p\" for band\n" +
        counted);
}

reharm::SearchReport report_of(const tune::Tune& tune, const reharm::PoolWish& pool,
                               const reharm::SearchWish& wish) {
    const auto& all = rules::built_in_rules();
    const auto reading = testing::plain_reading(tune);
    const auto plan = reharm::bind_plan(tune, all, {});
    REQUIRE(plan.value.has_value());
    const auto chart = reharm::chart_for(*plan.value, tune, reading);
    const reharm::Situation situation{tune, chart, all, *plan.value};
    return reharm::search(situation, reharm::build_pool(situation, pool), wish).report;
}

/// By cost alone, without aims.
reharm::SearchWish by_cost() {
    reharm::SearchWish wish;
    wish.dose = false;
    return wish;
}

reharm::PoolWish pool_wish(int depth, int alternatives = 1000) {
    reharm::PoolWish wish;
    wish.depth = depth;
    wish.alternatives = alternatives;
    return wish;
}

/// Numbers that "12 dropped at A:5" notes begin with.
int noted_drops(const reharm::SearchReport& report) {
    return std::accumulate(report.notes.begin(), report.notes.end(), 0, [](int sum, const std::string& note) {
        const bool drop = note.find(" dropped at ") != std::string::npos;
        return sum + (drop ? std::stoi(note) : 0);
    });
}

bool ends_with(const std::string& text, const std::string& end) {
    return text.size() >= end.size() && text.substr(text.size() - end.size()) == end;
}

}  // namespace

TEST_CASE("with nothing cut the best is the best", "[reharm]") {
    const auto report = report_of(with_plan(counted), pool_wish(1), by_cost());
    CHECK(report.exact);
    CHECK(report.stop == Stop::complete);
    CHECK(report.built > 20);
    CHECK(report.dropped == 0);
    CHECK(reharm::to_string(report) ==
          "best among the " + std::to_string(report.built) + " alternatives built");
}

TEST_CASE("without alternatives there is no best one", "[reharm]") {
    const auto report = report_of(with_plan(counted + "  hold A:1-8\n"), pool_wish(1), by_cost());
    CHECK(report.built == 0);
    CHECK(reharm::to_string(report) == "nothing to choose from");
}

TEST_CASE("alternatives that were dropped are counted, each place by itself", "[reharm]") {
    const auto report = report_of(with_plan(counted), pool_wish(1, 2), by_cost());
    CHECK(report.stop == Stop::alternatives);
    CHECK(report.dropped > 10);
    CHECK(noted_drops(report) == report.dropped);
    CHECK(report.built == report_of(with_plan(counted), pool_wish(1), by_cost()).built);
    CHECK(reharm::to_string(report).find(" alternatives built; ") != std::string::npos);
}

TEST_CASE("where rules could have been stacked further it is said", "[reharm]") {
    const auto report = report_of(with_plan(counted), pool_wish(2), by_cost());
    CHECK(report.stop == Stop::depth);
    CHECK(
        ends_with(reharm::to_string(report), " alternatives built; substitutions stacked two deep at most"));
}

TEST_CASE("a search that gives up early does not claim the best", "[reharm]") {
    auto wish = by_cost();
    wish.versions = 2;
    wish.labels = 1;
    const auto report = report_of(with_plan(counted), pool_wish(1), wish);
    CHECK_FALSE(report.exact);
    CHECK(report.stop == Stop::labels);
    CHECK(reharm::to_string(report).rfind("good among the ", 0) == 0);
}

TEST_CASE("joints that had to stay as written are said", "[reharm]") {
    auto wish = by_cost();
    CHECK(report_of(with_joints(), pool_wish(1), wish).exact);
    wish.nodes = 4;
    const auto report = report_of(with_joints(), pool_wish(1), wish);
    CHECK_FALSE(report.exact);
    CHECK(report.stop == Stop::joint);
    CHECK(ends_with(reharm::to_string(report), "; some joints of the form kept as written"));
}

TEST_CASE("what is chosen for its idea and its share is not called the best", "[reharm]") {
    const auto report = report_of(with_plan(""), pool_wish(1), {});
    CHECK_FALSE(report.exact);
    CHECK(report.free);
    CHECK(reharm::to_string(report) ==
          "picked for its idea from the " + std::to_string(report.built) + " alternatives built");
}

TEST_CASE("versions that could not keep their distance are said to", "[reharm]") {
    // One dominant, a handful of ways: the fourth version differs in it alone.
    const auto tune =
        testing::small_tune("C major", "Cmaj7! | Cmaj7! | Cmaj7! | G7 | Cmaj7! | Cmaj7! | Cmaj7! | Cmaj7!",
                            {}, "plan \"p\" for band\n" + counted);
    auto wish = by_cost();
    wish.versions = 3;
    const auto report = report_of(tune, pool_wish(1), wish);
    REQUIRE(report.notes.size() == 2);
    CHECK(report.notes.front() == "version 2 is sure to differ in 1 chord only");
    CHECK(report.notes.back() == "version 3 is sure to differ in 1 chord only");
}
