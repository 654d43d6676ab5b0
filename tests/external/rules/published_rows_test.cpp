// Published moves (published_rows.txt) come out of the built-in rules: in all twelve keys, by the rules
// named there, and near the top of what is offered at their distance outside.
#include <algorithm>
#include <fstream>
#include <iostream>
#include <set>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

struct Row {
    std::string name, key, changes, place;
    std::vector<theory::Chord> after;
    std::vector<std::string> by;
};

std::vector<std::string> words_of(const std::string& text) {
    std::istringstream stream(text);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
}

std::vector<Row> read_rows() {
    std::ifstream stream(RELEAD_SOURCE_DIR "/tests/external/rules/published_rows.txt");
    std::vector<Row> rows;
    for (std::string line; std::getline(stream, line);) {
        if (line.empty() || line.rfind("--", 0) == 0) continue;
        if (line.rfind("row ", 0) == 0) {
            rows.push_back({line.substr(4), {}, {}, {}, {}, {}});
        } else if (line.rfind("A:", 0) == 0) {
            bool by = false;
            for (const auto& word : words_of(line)) {
                if (rows.back().place.empty()) {
                    rows.back().place = word;
                } else if (word == "by") {
                    by = true;
                } else if (by) {
                    rows.back().by.push_back(word);
                } else {
                    const auto reading = theory::parse_chord(word);
                    INFO(word);
                    REQUIRE(reading.chord.has_value());
                    rows.back().after.push_back(*reading.chord);
                }
            }
        } else {
            const auto colon = line.find(':');
            rows.back().key = line.substr(0, colon);
            rows.back().changes = line.substr(colon + 2);
        }
    }
    return rows;
}

bool sounds_alike(const theory::Chord& a, const theory::Chord& b, int up) {
    const auto bass = [](const theory::Chord& chord) { return theory::pitch_class(theory::bass_of(chord)); };
    return theory::pitch_class(a.root) == (theory::pitch_class(b.root) + up) % 12 &&
           bass(a) == (bass(b) + up) % 12 && a.quality == b.quality && a.extra == b.extra;
}

struct Outcome {
    bool there = false;   ///< offered, with the derivation of the row
    int rank = 0;         ///< among what is offered over its first chord at its distance outside; from 1
    std::string symbols;  ///< as printed
    std::string ahead;    ///< what stands before it at its distance, a line each
};

std::string printed(const reharm::Judged& judged, const rules::RuleSet& built_in) {
    std::string text;
    for (const auto& chord : judged.placement.chords)
        text += (text.empty() ? "" : " ") + theory::to_string(chord.chord);
    for (const auto& applied : judged.placement.derivation)
        text += " <" + built_in.rules[static_cast<std::size_t>(applied.rule)].name;
    return text;
}

/// How far it reaches and what it plays when.
std::string sounding(const rules::Placement& placement) {
    auto text = std::to_string(placement.end);
    for (const auto& chord : placement.chords)
        text += " " + theory::to_string(chord.chord) + "@" + chord.at.to_string();
    return text;
}

/// The row with its tune `up` semitones higher, among all that `built_in` offers.
Outcome look_for(const Row& row, const tune::Tune& tune, int up, const rules::RuleSet& built_in) {
    const auto reading = analysis::analyse(tune);
    const auto chart = rules::make_chart(tune, reading);
    reharm::Wish wish;
    wish.outside = 5;
    const auto plan = reharm::bind_plan(tune, built_in, wish);
    REQUIRE(plan.value.has_value());
    int first = 0;
    while (first < chart.size() && rules::place_name(chart, first) != row.place) ++first;
    REQUIRE(first < chart.size());
    const reharm::Situation situation{tune, chart, built_in, *plan.value};
    reharm::PoolWish pool_wish;
    pool_wish.depth = static_cast<int>(std::max<std::size_t>(2, row.by.size()));
    pool_wish.explain = true;
    pool_wish.first = first;
    pool_wish.last = first + 1;
    auto pool = reharm::build_pool(situation, pool_wish).placements;
    pool.erase(std::remove_if(pool.begin(), pool.end(),
                              [&](const reharm::Judged& judged) {
                                  return !judged.verdict.allowed() || judged.placement.begin != first;
                              }),
               pool.end());
    std::stable_sort(pool.begin(), pool.end(), reharm::better);
    // The same chords by another way are no further offer: the better way stands for both.
    std::set<std::string> offered;
    pool.erase(std::remove_if(pool.begin(), pool.end(),
                              [&](const reharm::Judged& judged) {
                                  return !offered.insert(sounding(judged.placement)).second;
                              }),
               pool.end());
    const auto wanted = std::find_if(pool.begin(), pool.end(), [&](const reharm::Judged& judged) {
        const auto& chords = judged.placement.chords;
        if (chords.size() != row.after.size()) return false;
        for (std::size_t i = 0; i < chords.size(); ++i) {
            if (!sounds_alike(chords[i].chord, row.after[i], up)) return false;
        }
        return true;
    });
    Outcome outcome;
    if (wanted == pool.end()) return outcome;
    std::vector<std::string> by;
    for (const auto& applied : wanted->placement.derivation)
        by.push_back(built_in.rules[static_cast<std::size_t>(applied.rule)].name);
    outcome.there = by == row.by;
    outcome.rank = 1;
    for (auto at = pool.begin(); at != wanted; ++at) {
        if (at->outside != wanted->outside) continue;
        ++outcome.rank;
        outcome.ahead += "    " + printed(*at, built_in) + "\n";
    }
    outcome.symbols = printed(*wanted, built_in);
    return outcome;
}

}  // namespace

TEST_CASE("published moves come out in all twelve keys, by the rules named", "[external]") {
    const auto rows = read_rows();
    REQUIRE(rows.size() > 90);
    for (const auto& row : rows) {
        INFO(row.name);
        rules::RuleSet named;
        for (const auto& name : row.by) {
            const auto* rule = rules::built_in_rules().find(name);
            INFO(name);
            REQUIRE(rule != nullptr);
            if (!named.find(name)) named.rules.push_back(*rule);
        }
        const auto tune = testing::small_tune(row.key, row.changes);
        for (int fifths = -5; fifths <= 6; ++fifths) {
            const auto there = tune::transpose_to(tune, theory::NoteName{fifths});
            INFO(theory::to_string(there.key));
            const int up =
                (theory::pitch_class(there.key.tonic) - theory::pitch_class(tune.key.tonic) + 12) % 12;
            const auto outcome = look_for(row, there, up, named);
            INFO(outcome.symbols);
            CHECK(outcome.there);
        }
    }
}

TEST_CASE("published moves stand near the top of their distance", "[external]") {
    const auto rows = read_rows();
    int top = 0;
    std::string below;
    for (const auto& row : rows) {
        const auto outcome =
            look_for(row, testing::small_tune(row.key, row.changes), 0, rules::built_in_rules());
        if (outcome.rank >= 1 && outcome.rank <= 3) {
            ++top;
        } else {
            below += row.name + ": rank " + std::to_string(outcome.rank) + ", behind\n" + outcome.ahead;
        }
    }
    INFO(top << " of " << rows.size() << " are among the first three; not these:\n" << below);
    std::cout << "published moves among the first three: " << top << " of " << rows.size() << "; not these:\n"
              << below;
    CHECK(top * 10 >= static_cast<int>(rows.size()) * 8);
}
