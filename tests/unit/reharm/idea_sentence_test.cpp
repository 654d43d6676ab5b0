// compiler/reharm/idea_sentence.cpp: the sentence of a version.
#include "reharm/idea_sentence.h"

#include <algorithm>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// The one version of the changes in C major in which the plan takes what `takes` says.
reharm::Version version_of(const std::string& changes, const std::string& takes) {
    const auto tune =
        testing::small_tune("C major", changes, {}, "plan \"p\" for band\n  outside 2\n" + takes);
    reharm::Wish wish;
    wish.use = {"related-ii", "diminished"};
    auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
    REQUIRE(outcome.value.has_value());
    return outcome.value->versions.front();
}

}  // namespace

TEST_CASE("a ii-V leads to where its dominant leads, also where the next ii comes in between", "[reharm]") {
    const auto version = version_of("Cmaj7 | Cmaj7 | D7 | G7 | Cmaj7 | Cmaj7",
                                    "  take related-ii at A:3\n  take related-ii at A:4\n");
    const auto in_bar = [&](int bar) -> const reharm::Change& {
        const auto found = std::find_if(version.changes.begin(), version.changes.end(),
                                        [&](const auto& change) { return change.place.bar == bar; });
        REQUIRE(found != version.changes.end());
        return *found;
    };
    const auto& first = in_bar(3);
    const auto& second = in_bar(4);
    REQUIRE(first.new_chords.size() == 2);
    REQUIRE(first.next.has_value());
    CHECK(theory::to_string(*first.next) == "Dm7");
    REQUIRE(first.goal.has_value());
    CHECK(theory::to_string(*first.goal) == "G7");
    REQUIRE(second.goal.has_value());
    CHECK(theory::to_string(*second.goal) == "Cmaj7");
}

TEST_CASE("goals are told by their degree", "[reharm]") {
    const auto chord = [](const std::string& symbol) { return *theory::parse_chord(symbol).chord; };
    const auto change = [&](const std::string& rule, const std::string& title, const std::string& next) {
        reharm::Change one;
        one.rule = rule;
        one.title = title;
        one.next = chord(next);
        return one;
    };
    auto first = change("related-ii", "Related ii", "Dm7");
    first.goal = chord("G7");
    const std::vector changes{first, change("related-ii-minor", "Related ii in minor", "Am7"),
                              change("sus-delay", "Suspended fourth before the third", "C")};
    const theory::Key c_major{theory::NoteName{0}, theory::Mode::major};
    CHECK(reharm::idea_of(changes, {}, rules::built_in_rules(), c_major) ==
          "More ii-Vs: related ii and related ii in minor, into V and vi; also suspended fourth before the "
          "third.");
    // No key is claimed: a degree would be one of nothing.
    CHECK(reharm::idea_of(changes, {}, rules::built_in_rules(), std::nullopt) ==
          "More ii-Vs: related ii and related ii in minor, into G7 and Am7; also suspended fourth before the "
          "third.");
    // Of two changes neither is the idea of the other; a long list names what comes most often.
    CHECK(reharm::idea_of({changes[1], changes[2]}, {}, rules::built_in_rules(), c_major) ==
          "Related ii in minor and suspended fourth before the third.");
    auto many = changes;
    many.insert(many.end(), changes.begin(), changes.end());
    for (const auto* rule : {"tritone", "backdoor-dominant", "deceptive-six"}) {
        many.push_back(change("related-ii", "Related ii", "Dm7"));
        many.push_back(change(rule, rule, "C"));
    }
    CHECK(reharm::idea_of(many, {}, rules::built_in_rules(), c_major) ==
          "More ii-Vs: related ii (five times) and related ii in minor (twice), into ii, V and vi; also "
          "suspended fourth before the third (twice), tritone and others.");
}

TEST_CASE("a goal has its degree however the key makes it to be written", "[reharm]") {
    // Amaj7 in Gb stands for Bbbmaj7.
    const auto leads_to = [](const char* goal) {
        reharm::Change one;
        one.rule = "tritone";
        one.title = "Tritone substitute";
        one.next = theory::parse_chord(goal).chord;
        return one;
    };
    const theory::Key g_flat{theory::NoteName{-6}, theory::Mode::major};
    CHECK(reharm::idea_of({leads_to("Amaj7"), leads_to("Gb6"), leads_to("Amaj7")}, {},
                          rules::built_in_rules(), g_flat) ==
          "Dominants from a half step above: tritone substitute (three times), into bIII and I.");
}

TEST_CASE("where a version differs is told place by place, of many section by section", "[reharm]") {
    const auto version = [](const std::string& name, const std::vector<std::pair<std::string, int>>& places) {
        reharm::Version one;
        one.name = name;
        for (const auto& [section, bar] : places) {
            reharm::Change change;
            change.first = change.last = {section == "A" ? 0 : 1, bar - 1, 0};
            change.place.section = section;
            change.place.bar = bar;
            change.place.beat = bar == 3 ? 3 : 0;
            change.rule = "tritone";
            one.changes.push_back(std::move(change));
        }
        return one;
    };
    const std::vector earlier{version("mild", {{"A", 1}, {"A", 2}})};
    const auto told = [&](const std::vector<std::pair<std::string, int>>& places) {
        return reharm::against(version("mild 2", places), earlier, rules::built_in_rules());
    };
    CHECK(told({{"A", 1}, {"A", 3}, {"A", 5}, {"A", 7}, {"B", 2}, {"B", 4}, {"B", 6}, {"B", 7}}) ==
          "Against mild: new at A:3.3, A:5, A:7, B:2, B:4, B:6 and B:7; without the change at A:2.");
    CHECK(told({{"A", 3}, {"A", 4}, {"A", 5}, {"A", 6}, {"A", 7}, {"B", 2}, {"B", 4}, {"B", 6}, {"B", 7}}) ==
          "Against mild: new at bars 3.3, 4, 5, 6 and 7 of A and bars 2, 4, 6 and 7 of B; without the change "
          "at "
          "A:1 and A:2.");
}
