// compiler/reharm/reharmonise.cpp: versions of least cost, without aims.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/cost_terms.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "text/render.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

reharm::Choices choose(const tune::Tune& tune, bool by_cost, int outside = 2) {
    reharm::Wish wish;
    wish.outside = outside;
    wish.versions = 3;
    wish.by_cost = by_cost;
    auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
    REQUIRE(outcome.value.has_value());
    return std::move(*outcome.value);
}

std::vector<tune::Tune> samples() {
    std::vector<std::filesystem::path> paths;
    for (const auto& file : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/samples/tunes"))
        if (file.path().extension() == ".tune") paths.push_back(file.path());
    std::sort(paths.begin(), paths.end());
    std::vector<tune::Tune> tunes;
    for (const auto& path : paths) {
        std::ifstream stream(path);
        std::stringstream bytes;
        bytes << stream.rdbuf();
        tunes.push_back(testing::read_whole(bytes.str()));
    }
    return tunes;
}

bool loses_a_place(const reharm::Change& change) {
    return std::any_of(change.terms.begin(), change.terms.end(),
                       [](const reharm::CostTerm& term) { return term.name == "other-function"; });
}

std::string changes_of(const reharm::Choices& choices) {
    std::string all;
    for (const auto& version : choices.versions) {
        for (const auto& change : version.changes)
            all += text::to_string(change.place) + " " + change.rule + ", ";
        all += std::to_string(version.cost) + "\n";
    }
    return all;
}

}  // namespace

TEST_CASE("no version that is picked for its idea costs less than the one of least cost", "[reharm]") {
    int dearer = 0;
    for (const auto& tune : samples()) {
        INFO(tune.title);
        const auto best = choose(tune, true);
        CHECK(best.report.exact);
        CHECK_FALSE(best.report.free);
        REQUIRE_FALSE(best.versions.empty());
        for (std::size_t i = 1; i < best.versions.size(); ++i)
            CHECK(best.versions[i].cost >= best.versions.front().cost);
        for (const auto& version : choose(tune, false).versions) {
            CHECK(version.cost >= best.versions.front().cost);
            dearer += version.cost > best.versions.front().cost ? 1 : 0;
        }
    }
    CHECK(dearer > 20);
}

TEST_CASE("section starts and the way home cost as much by cost as in a free choice", "[reharm]") {
    const std::string changes = "Cmaj7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 G7 | Cmaj7";
    const auto free = choose(testing::small_tune("C major", changes), true, 3);
    for (const auto& version : free.versions)
        CHECK(std::none_of(version.changes.begin(), version.changes.end(), loses_a_place));
    // What a plan takes is taken, and its price is told.
    const auto asked =
        choose(testing::small_tune("C major", changes, {},
                                   "plan \"p\" for band\n  outside 3\n  take backdoor-dominant at A:7.3\n"),
               true, 3);
    const auto& first = asked.versions.front().changes;
    CHECK(std::count_if(first.begin(), first.end(), loses_a_place) == 1);
    CHECK(asked.versions.front().cost >= free.versions.front().cost + reharm::other_function(3));
}

TEST_CASE("the least cost is the same in all keys", "[reharm]") {
    const auto tune = testing::small_tune("C major", "Cmaj7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 G7 | Cmaj7");
    const auto wanted = changes_of(choose(tune, true));
    CHECK(wanted.size() > 40);
    for (int fifths = -6; fifths <= 5; ++fifths) {
        INFO("tonic " << fifths << " fifths from C");
        CHECK(changes_of(choose(tune::transpose_to(tune, theory::NoteName{fifths}), true)) == wanted);
    }
}
