// grammar/near-misses.txt, compiler/reharm/near_miss.cpp: which refusal of a rule is told.
#include "reharm/near_miss.h"

#include <map>
#include <set>
#include <string>

#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;
using Kind = rules::Objection::Kind;

namespace {

const Kind all_kinds[] = {
#define RELEAD_OBJECTION(kind, word) Kind::kind,
#include "rules/objections.def"
#undef RELEAD_OBJECTION
};

/// What keeps `rule` away from A:`bar`: its refusals for reasons of its own, of every placement that is told.
std::vector<std::string> refusals(const std::string& changes, int bar, const std::string& rule) {
    const auto tune =
        testing::small_tune("C major", changes, {}, "plan \"p\" for band\n  use " + rule + "\n");
    const auto outcome = reharm::options(tune, testing::plain_reading(tune), rules::built_in_rules(),
                                         *tune::parse_address("A:" + std::to_string(bar)));
    REQUIRE(outcome.clean());
    std::vector<std::string> told;
    for (const auto& option : *outcome.value) {
        if (option.rule != rule) continue;
        for (const auto& refusal : option.verdict.refusals) {
            if (refusal.kind == reharm::Refusal::Kind::rule) told.push_back(refusal.sentence);
        }
    }
    return told;
}

}  // namespace

TEST_CASE("the table has a row for every objection and no other row", "[reharm]") {
    std::set<std::string_view> words;
    for (const auto kind : all_kinds) words.insert(rules::to_string(kind));
    CHECK(words.size() == std::size(all_kinds));
    const auto rows = reharm::near_misses();
    CHECK(std::set<std::string_view>(rows.begin(), rows.end()) == words);
    for (const auto kind : all_kinds) CHECK(reharm::far_off(kind) > 0);
}

TEST_CASE("a condition is nearer than a chord next door, the right root nearer than another", "[reharm]") {
    CHECK(reharm::far_off(Kind::condition) < reharm::far_off(Kind::near_context));
    CHECK(reharm::far_off(Kind::near_context) < reharm::far_off(Kind::context));
    CHECK(2 * reharm::far_off(Kind::condition) < reharm::far_off(Kind::context));
}

TEST_CASE("of degrees where a rule does not fit the one that tells most is told", "[reharm]") {
    // V7 stands before it already: that is why it is not put there. As the IV of G it would want another
    // chord after it, which tells nobody anything.
    CHECK(refusals("Fmaj7 | G7 | Cmaj7 | G7 | Cmaj7 | Cmaj7", 3, "dominant-in-place") ==
          std::vector<std::string>{
              "Cmaj7 may not give way after G7: it needs another chord before it than a dominant on G.",
              "Cmaj7 may not give way after G7: it needs another chord before it than a dominant."});
}

TEST_CASE("chords that come about in several ways are told once, by the cheapest", "[reharm]") {
    const auto tune = testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | C6");
    const auto outcome = reharm::options(tune, testing::plain_reading(tune), rules::built_in_rules(),
                                         *tune::parse_address("A:2"));
    REQUIRE(outcome.clean());
    std::map<std::string, int> told;
    int least = 0;
    for (const auto& option : *outcome.value) {
        if (!option.verdict.allowed() || option.old_chords.size() != 1) continue;
        std::string text;
        for (std::size_t i = 0; i < option.new_chords.size(); ++i)
            text += theory::to_string(option.new_chords[i]) + "*" + option.new_beats[i].to_string() + " ";
        if (told.empty()) least = option.verdict.cost;
        CHECK(option.verdict.cost >= least);
        ++told[text];
    }
    CHECK(told.size() > 3);
    for (const auto& [chords, count] : told) {
        INFO(chords);
        CHECK(count == 1);
    }
}
