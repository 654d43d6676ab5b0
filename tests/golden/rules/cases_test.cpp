// grammar/rules/*.rules: every built-in rule fires where it should and is refused where it should, as the
// texts in cases/ say. A rule without a case of either kind, and a case without its rule, fail.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <set>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/match.h"
#include "rules/numeral.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// One case: a tune of one section A, a place, and what the rule says there.
struct Case {
    std::string rule;
    bool fires = false;
    bool soloist = false;
    std::string key, meter, tempo, changes;  ///< meter and tempo are empty where nothing is said
    std::vector<std::string> rows;
    std::string place;     ///< "A:2", "A:1.3"
    std::string expected;  ///< new chords, or the sentence of the first refusal
};

/// "C major", "C major, 3/4", "C major, 60 ballad", "C major, 3/4, 60 ballad".
void set_head(Case& one, const std::string& head) {
    std::istringstream parts(head);
    std::getline(parts, one.key, ',');
    for (std::string part; std::getline(parts >> std::ws, part, ',');)
        (part.find('/') != std::string::npos ? one.meter : one.tempo) = part;
}

tune::Tune tune_of(const Case& one) {
    const std::string plan =
        std::string("plan \"p\" for ") + (one.soloist ? "soloist" : "band") + "\n  outside 5\n";
    if (one.meter.empty() && one.tempo.empty())
        return testing::small_tune(one.key, one.changes, one.rows, plan);
    std::string text = "tune \"Small\"\nkey " + one.key + "\nmeter " +
                       (one.meter.empty() ? "4/4" : one.meter) + "\ntempo " +
                       (one.tempo.empty() ? "120 swing" : one.tempo) + "\nform A\n\nsection A\nchanges | " +
                       one.changes + " |\n";
    for (const auto& row : one.rows) text += row + "\n";
    return testing::read_whole(text + "\n" + plan);
}

std::vector<Case> read_cases(const std::filesystem::path& path) {
    std::ifstream stream(path);
    std::vector<Case> cases;
    std::string line, rule;
    const std::string solo = "  for soloist";
    while (std::getline(stream, line)) {
        if (line.empty() || line.rfind("--", 0) == 0) continue;
        if (line.rfind("rule ", 0) == 0) {
            rule = line.substr(5);
        } else if (line.rfind("fires ", 0) == 0 || line.rfind("not ", 0) == 0) {
            Case one;
            one.rule = rule;
            one.fires = line.front() == 'f';
            if (line.size() > solo.size() && line.substr(line.size() - solo.size()) == solo) {
                one.soloist = true;
                line.resize(line.size() - solo.size());
            }
            const auto start = line.find_first_not_of(' ', line.find(' '));
            const auto colon = line.find(':');
            set_head(one, line.substr(start, colon - start));
            one.changes = line.substr(colon + 2);
            cases.push_back(one);
        } else if (line.rfind("  A:", 0) == 0) {
            const auto space = line.find(' ', 2);
            cases.back().place = line.substr(2, space - 2);
            cases.back().expected = line.substr(space + 1);
        } else {
            cases.back().rows.push_back(line.substr(2));
        }
    }
    return cases;
}

std::vector<Case> all_cases() {
    std::vector<Case> all;
    for (const auto& entry :
         std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/tests/golden/rules/cases")) {
        const auto some = read_cases(entry.path());
        all.insert(all.end(), some.begin(), some.end());
    }
    return all;
}

std::string place_of(const reharm::Option& option) {
    auto text = option.place.section + ":" + std::to_string(option.place.bar);
    if (option.place.beat > 0) text += "." + option.place.beat.to_string();
    return text;
}

std::vector<reharm::Option> options_at(const rules::RuleSet& rules, const Case& one) {
    const auto tune = tune_of(one);
    reharm::Wish wish;
    wish.depth = 1;
    const auto spot = tune::parse_address(one.place);
    REQUIRE(spot.has_value());
    auto options = reharm::options(tune, analysis::analyse(tune), rules, *spot, wish);
    REQUIRE(options.value.has_value());
    auto here = std::move(*options.value);
    here.erase(std::remove_if(here.begin(), here.end(),
                              [&](const reharm::Option& option) { return place_of(option) != one.place; }),
               here.end());
    return here;
}

std::string chords_of(const reharm::Option& option) {
    std::string chords;
    for (const auto& chord : option.new_chords)
        chords += (chords.empty() ? "" : " ") + theory::to_string(chord);
    return chords;
}

/// What the rules offer at the place of a case: the new chords of everything that is allowed.
std::set<std::string> offered(const rules::RuleSet& rules, const Case& one) {
    std::set<std::string> all;
    for (const auto& option : options_at(rules, one)) {
        if (option.verdict.allowed()) all.insert(chords_of(option));
    }
    return all;
}

/// What the rule alone says at the place: new chords when it is allowed, else why each of its tries there is
/// refused; without any, "nothing".
std::pair<bool, std::set<std::string>> said(const Case& one) {
    rules::RuleSet only;
    if (const auto* rule = rules::built_in_rules().find(one.rule)) only.rules.push_back(*rule);
    std::set<std::string> refusals;
    for (const auto& option : options_at(only, one)) {
        if (option.verdict.allowed()) return {true, {chords_of(option)}};
        refusals.insert(option.verdict.refusals.front().sentence);
    }
    if (refusals.empty()) refusals.insert("nothing");
    return {false, refusals};
}

}  // namespace

TEST_CASE("every built-in rule fires where its case says, and keeps off where its case says", "[rules]") {
    for (const auto& one : all_cases()) {
        INFO(one.rule << " in " << one.key << ", " << one.meter << ", " << one.tempo << ": " << one.changes
                      << " at " << one.place);
        const auto [allowed, words] = said(one);
        CHECK(allowed == one.fires);
        INFO("said: " << words.begin()->c_str());
        CHECK(words.count(one.expected) == 1);
    }
}

TEST_CASE("every built-in rule has a case of either kind, and every case its rule", "[rules]") {
    std::map<std::string, std::pair<int, int>> counts;
    for (const auto& one : all_cases()) {
        INFO(one.rule);
        CHECK(rules::built_in_rules().find(one.rule) != nullptr);
        CHECK_FALSE(one.expected.empty());
        if (one.fires) CHECK(one.expected != "nothing");
        // "nothing": the chords are not those of the rule. True of nearly every rule there, so it counts as
        // no case; it stands beside one that says why.
        if (one.expected == "nothing") continue;
        (one.fires ? counts[one.rule].first : counts[one.rule].second) += 1;
    }
    for (const auto& rule : rules::built_in_rules().rules) {
        INFO(rule.name);
        CHECK(counts[rule.name].first > 0);
        CHECK(counts[rule.name].second > 0);
    }
}

TEST_CASE("without any one of its rules the set leaves a case that nothing else answers", "[rules]") {
    std::map<std::string, std::vector<Case>> firing;
    for (const auto& one : all_cases()) {
        if (one.fires) firing[one.rule].push_back(one);
    }
    const auto& all = rules::built_in_rules().rules;
    for (std::size_t gone = 0; gone < all.size(); ++gone) {
        auto fewer = rules::built_in_rules();
        fewer.rules.erase(fewer.rules.begin() + static_cast<std::ptrdiff_t>(gone));
        INFO("without " << all[gone].name);
        const auto& cases = firing[all[gone].name];
        CHECK(std::any_of(cases.begin(), cases.end(),
                          [&](const Case& one) { return offered(fewer, one).count(one.expected) == 0; }));
    }
}

TEST_CASE("the rules are many, of every family and of every distance", "[rules]") {
    const auto& all = rules::built_in_rules().rules;
    int several_chords = 0, conditions = 0;
    std::map<int, int> levels;
    std::map<std::string, int> families;
    for (const auto& rule : all) {
        several_chords += rule.find.run.size() > 1 ? 1 : 0;
        const auto asks = [](const std::vector<rules::Clause>& clauses) {
            for (const auto& clause : clauses) {
                for (const auto& each : clause.any_of) {
                    for (const auto& one : each) {
                        using K = rules::ConditionKind;
                        if (one.kind == K::melody_holds || one.kind == K::melody_touches ||
                            one.kind == K::in_place || one.kind == K::has_function ||
                            one.kind == K::prepares_degree)
                            return true;
                    }
                }
            }
            return false;
        };
        conditions += asks(rule.when) || asks(rule.unless) ? 1 : 0;
        ++levels[rule.outside];
        ++families[rule.family];
    }
    CHECK(all.size() >= 40);
    CHECK(several_chords >= 15);
    CHECK(conditions >= 10);
    for (int level = 1; level <= 5; ++level) {
        INFO("outside " << level);
        CHECK(levels[level] > 0);
    }
    for (const auto* family : {"tritone",
                               "backdoor",
                               "related-ii",
                               "secondary-dominant",
                               "extended-dominant",
                               "substitute-chain",
                               "sus",
                               "colour",
                               "minor-third",
                               "diminished",
                               "tonic-exchange",
                               "predominant-exchange",
                               "borrowed",
                               "turnaround",
                               "line-cliche",
                               "pedal",
                               "approach",
                               "side-slip",
                               "third-cycle",
                               "constant-structure",
                               "blues",
                               "moving-bass"}) {
        INFO(family);
        CHECK(families[family] > 0);
    }
}

TEST_CASE("a rule's example is one where it fires", "[rules]") {
    for (const auto& rule : rules::built_in_rules().rules) {
        INFO(rule.name << ": " << rule.example);
        std::string changes;
        std::istringstream words(rule.example);
        for (std::string word; words >> word;) {
            if (word != "|") {
                const auto numeral = rules::parse_numeral(word);
                REQUIRE(numeral.has_value());
                word = theory::to_string(rules::realise(*numeral, {0}));
            }
            changes += (changes.empty() ? "" : " ") + word;
        }
        // A tonic in small letters: minor; sevenths on I and IV of twelve bars: a blues.
        const auto bars = std::count(rule.example.begin(), rule.example.end(), '|') + 1;
        const bool blues = bars == 12 && rule.example.find("I7 ") != std::string::npos;
        const bool minor = (" " + rule.example + " ").find(" i ") != std::string::npos;
        const auto tune = testing::small_tune(blues ? "C blues" : minor ? "C minor" : "C major", changes);
        const auto chart = rules::make_chart(tune, analysis::analyse(tune));
        rules::RuleSet only;
        only.rules.push_back(rule);
        rules::MatchWish wish;
        wish.audience =
            rule.audience == rules::Audience::soloist ? rules::Audience::soloist : rules::Audience::band;
        CHECK_FALSE(rules::match_rule(only, 0, chart, wish).empty());
    }
}
