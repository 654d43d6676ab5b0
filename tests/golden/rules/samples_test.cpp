// Every family of built-in rules has work on the sample tunes: a version that is really chosen, with the
// rules of that family alone and whatever the tune's own plans say, changes two of them at least.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

struct Sample {
    std::string name;
    tune::Tune tune;
    analysis::Analysis analysis;
};

/// samples/tunes by name, without their plans.
std::vector<Sample> samples() {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/samples/tunes")) {
        if (entry.path().extension() == ".tune") paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    std::vector<Sample> all;
    for (const auto& path : paths) {
        std::ifstream stream(path);
        std::stringstream text;
        text << stream.rdbuf();
        auto tune = testing::read_whole(text.str());
        tune.plans.clear();
        for (auto& item : tune.order.running) item.plan.clear();
        auto analysis = analysis::analyse(tune);
        all.push_back({path.stem().string(), std::move(tune), std::move(analysis)});
    }
    return all;
}

/// True when the version chosen from the family alone holds a change of it.
bool changes(const std::string& family, const Sample& sample, tune::Plan::Who who) {
    auto tune = sample.tune;
    tune::Plan plan;
    plan.name = "one family";
    plan.who = who;
    tune.plans.push_back(plan);
    reharm::Wish wish;
    wish.outside = 5;
    wish.use = {family};
    const auto chosen = reharm::reharmonise(tune, sample.analysis, rules::built_in_rules(), wish);
    REQUIRE(chosen.value.has_value());
    REQUIRE_FALSE(chosen.value->versions.empty());
    const auto& made = chosen.value->versions.front().changes;
    return std::any_of(made.begin(), made.end(),
                       [&](const reharm::Change& change) { return change.family == family; });
}

}  // namespace

TEST_CASE("every family changes at least two of the sample tunes", "[rules]") {
    std::set<std::string> families;
    for (const auto& rule : rules::built_in_rules().rules) families.insert(rule.family);
    const auto tunes = samples();
    for (const auto& family : families) {
        std::vector<std::string> changed;
        for (const auto& sample : tunes) {
            if (changed.size() == 2) break;
            if (changes(family, sample, tune::Plan::Who::band) ||
                changes(family, sample, tune::Plan::Who::soloist))
                changed.push_back(sample.name);
        }
        INFO(family);
        CHECK(changed.size() == 2);
    }
}
