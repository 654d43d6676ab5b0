// compiler/reharm/options.cpp: what could stand at a spot, with its reason and what speaks against it.
#include <algorithm>
#include <map>

#include "chosen.h"
#include "reharm/reharmonise.h"
#include "text/render.h"

using namespace relead;
using testing::few_rules;
using testing::sample;

namespace {

/// What a rule alone offers first at an address.
reharm::Option first_option(const std::string& rule, const std::string& key, const std::string& changes,
                            const std::string& at) {
    rules::RuleSet one;
    one.rules.push_back(*rules::built_in_rules().find(rule));
    const auto tune = testing::small_tune(key, changes, {}, "plan \"p\" for band\n  outside 2\n");
    const auto outcome = reharm::options(tune, testing::plain_reading(tune), one, *tune::parse_address(at));
    REQUIRE(outcome.value);
    REQUIRE(!outcome.value->empty());
    return outcome.value->front();
}

}  // namespace

TEST_CASE("a rule that builds on another one speaks of the chord that stands beside it there", "[reharm]") {
    rules::RuleSet two;
    for (const auto& rule : rules::built_in_rules().rules) {
        if (rule.name == "two-five-from-above" || rule.name == "made-dominant") two.rules.push_back(rule);
    }
    const auto tune =
        testing::small_tune("F major", "Gm7 | C7 | F6 | F6", {}, "plan \"p\" for band\n  outside 3\n");
    const auto outcome =
        reharm::options(tune, testing::plain_reading(tune), two, *tune::parse_address("A:2"));
    REQUIRE(outcome.value);
    std::string told;
    for (const auto& option : *outcome.value) {
        if (option.new_chords.size() == 4 && theory::to_string(option.new_chords.front()) == "Ab7")
            told = option.reason;
    }
    CHECK(told ==
          "The ii-V comes twice, first a half step too high: Db7 slides down into Gm7. "
          "Ab7 keeps the root and the seventh of Abm7 and becomes the dominant of Db7.");
}

TEST_CASE("a rule whose context stays speaks of the chord beside its own", "[reharm]") {
    const auto option =
        first_option("half-diminished-two", "C major", "C6 | Dm7 | G7 | C6 | Fm6 | C6", "A:2");
    CHECK(option.reason ==
          "The fifth of Dm7b5 is the flat sixth of C minor and falls a half step to the root of G7.");
}

TEST_CASE("a dominant into a chord on the sharp side has a sharp too", "[reharm]") {
    const auto option = first_option("secondary-dominant", "A minor", "Fmaj7 | F#m7 B7 | E7b9 | Am", "A:1");
    CHECK(theory::to_string(option.new_chords.back()) == "C#7");
}

TEST_CASE("a rule that fits on no degree is listed once, where it misses least", "[reharm]") {
    const auto tune = sample("ferry-at-first-light");
    for (const auto* spot : {"A:2", "A:5", "B:1"}) {
        const auto found = reharm::options(tune, analysis::analyse(tune), rules::built_in_rules(),
                                           *tune::parse_address(spot), {});
        REQUIRE(found.value.has_value());
        std::map<std::string, int> missing;
        for (const auto& option : *found.value) {
            const bool misses =
                std::any_of(option.verdict.refusals.begin(), option.verdict.refusals.end(),
                            [](const auto& refusal) { return refusal.kind == reharm::Refusal::Kind::rule; });
            std::string old;
            for (const auto& chord : option.old_chords) old += " " + theory::to_string(chord);
            if (misses) ++missing[text::to_string(option.place) + old + " " + option.rule];
        }
        CHECK(missing.size() > 5);
        for (const auto& [what, times] : missing) {
            INFO(what);
            CHECK(times == 1);
        }
    }
}

TEST_CASE("options at a spot, with what speaks against them", "[reharm]") {
    const auto tune = testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | Cmaj7");
    const auto reading = testing::plain_reading(tune);
    const auto outcome = reharm::options(tune, reading, few_rules(), *tune::parse_address("A:2"));
    REQUIRE(outcome.value.has_value());
    const auto& all = *outcome.value;
    REQUIRE(all.size() > 3);
    CHECK(all.front().verdict.allowed());
    CHECK_FALSE(all.back().verdict.allowed());
    bool was_refused = false;
    for (const auto& option : all) {
        if (!option.verdict.allowed()) {
            was_refused = true;
            CHECK_FALSE(option.verdict.refusals.front().sentence.empty());
        } else {
            CHECK_FALSE(was_refused);
        }
    }
    const auto none = reharm::options(tune, reading, few_rules(), *tune::parse_address("Z:9"));
    CHECK_FALSE(none.value.has_value());
    CHECK(none.diagnostics.front().code == "section-unknown");
}
