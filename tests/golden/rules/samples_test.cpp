// Every family of built-in rules has work on the sample tunes: something that it may change in two of them
// at least.
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/judge.h"
#include "reharm/pool.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

TEST_CASE("every family changes at least two of the sample tunes", "[rules]") {
    const auto& built_in = rules::built_in_rules();
    std::map<std::string, std::set<std::string>> tunes_of;
    for (const auto& entry : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/samples/tunes")) {
        if (entry.path().extension() != ".tune") continue;
        std::ifstream stream(entry.path());
        std::stringstream text;
        text << stream.rdbuf();
        const auto tune = testing::read_whole(text.str());
        const auto reading = analysis::analyse(tune);
        const auto chart = rules::make_chart(tune, reading);
        for (const auto who : {rules::Audience::band, rules::Audience::soloist}) {
            reharm::BoundPlan plan;
            plan.ceiling = 5;
            plan.audience = who;
            plan.usable.assign(built_in.rules.size(), true);
            const reharm::Situation situation{tune, chart, built_in, plan};
            reharm::PoolWish wish;
            wish.depth = 1;
            wish.explain = true;  // judged among the written chords
            for (const auto& judged : reharm::build_pool(situation, wish).placements) {
                if (!judged.verdict.allowed()) continue;
                const auto rule = static_cast<std::size_t>(judged.placement.derivation.back().rule);
                tunes_of[built_in.rules[rule].family].insert(entry.path().stem().string());
            }
        }
    }
    for (const auto& rule : built_in.rules) {
        INFO(rule.family);
        CHECK(tunes_of[rule.family].size() >= 2);
    }
}
