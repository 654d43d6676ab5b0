// compiler/reharm/takes.cpp: what a plan takes is taken where it can stand, and what it needs is said where
// not.
#include "reharm/takes.h"

#include <algorithm>
#include <set>
#include <string>

#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

tune::Tune planned(const std::string& changes, const std::string& plan) {
    return testing::small_tune("F major", changes, {}, plan);
}

Outcome<reharm::Choices> choose(const tune::Tune& tune, const reharm::Wish& wish = {}) {
    return reharm::reharmonise(tune, testing::plain_reading(tune), rules::built_in_rules(), wish);
}

/// What the first version takes: "side-slip", or what is said of it.
std::string taken(const tune::Tune& tune) {
    const auto outcome = choose(tune);
    REQUIRE(outcome.value.has_value());
    if (!outcome.diagnostics.empty()) return outcome.diagnostics.front().sentence;
    for (const auto& change : outcome.value->versions.front().changes) {
        if (change.taken) return change.derivation.back();
    }
    return "nothing";
}

}  // namespace

TEST_CASE("what is taken is no alternative that others can crowd out", "[reharm]") {
    // More than 64 things can stand at A:1 that far outside, and most cost less than these.
    const auto with = [](const std::string& who, const std::string& rule) {
        return taken(planned("Gm7 | C7 | Fmaj7 | Fmaj7",
                             "plan \"y\" for " + who + "\n  take " + rule + " at A:1\n  outside 5\n"));
    };
    CHECK(with("soloist", "side-slip") == "side-slip");
    for (const auto* rule : {"backdoor", "four-for-two", "half-diminished-two", "minor-two-five"})
        CHECK(with("band", rule) == rule);
}

TEST_CASE("what options allow on the written chords can be taken", "[reharm]") {
    const auto tune = planned("Gm7 | C7 | Fmaj7 | Fmaj7", "plan \"y\" for soloist\n  outside 5\n  depth 1\n");
    const auto options = reharm::options(tune, testing::plain_reading(tune), rules::built_in_rules(),
                                         *tune::parse_address("A:1"));
    REQUIRE(options.clean());
    std::set<std::string> rules;
    for (const auto& option : *options.value) {
        if (option.verdict.allowed()) rules.insert(option.rule);
    }
    REQUIRE(rules.size() > 5);
    for (const auto& rule : rules) {
        INFO(rule);
        CHECK(taken(planned("Gm7 | C7 | Fmaj7 | Fmaj7",
                            "plan \"y\" for soloist\n  outside 5\n  take " + rule + " at A:1\n")) == rule);
    }
}

TEST_CASE("a rule can be taken where another one has to make its chord first", "[reharm]") {
    // Ab7 leads aside to Dbmaj7, and D7 stands for Ab7.
    CHECK(taken(planned("Gm7 | C7 | Fmaj7 | Fmaj7",
                        "plan \"y\" for soloist\n  outside 5\n  take minor-third-below at A:1\n")) ==
          "minor-third-below");
}

TEST_CASE("where a rule's chords are not there it says which it needs", "[reharm]") {
    const auto said = [&](const std::string& lines) {
        return taken(planned("Fmaj7 | D7 | Gm7 | C7 | Fmaj7 | D7 | Gm7 C7 | F6",
                             "plan \"p\" for band\n  depth 1\n" + lines));
    };
    CHECK(said("  take tritone at A:1\n") ==
          "Tritone substitute cannot stand at A:1: It needs a dominant; Fmaj7 stands there.");
    CHECK(said("  take minor-two-five at A:5-6\n") ==
          "Minor ii-V into a major chord cannot stand at A:5-6: It needs a minor seventh, then a dominant a "
          "fourth higher; Fmaj7 and D7 stand there.");
    // A rule that is always counted from one tonic names its chords.
    CHECK(said("  take flat-seven-major at A:1\n") ==
          "bVIImaj7 for V7 cannot stand at A:1: It needs a dominant on C; Fmaj7 stands there.");
    CHECK(said("  take blues-jazz-cadence at A:1\n") ==
          "ii-V in bars 9 and 10 cannot stand at A:1: It needs a dominant on F, then a dominant on C, then a "
          "dominant on Bb or a dominant on C; Fmaj7 stands there.");
}

TEST_CASE("of a family that cannot be taken all its rules are told of, or the one that comes nearest",
          "[reharm]") {
    const auto said = [](const std::string& lines) {
        return taken(planned("Fmaj7 | D7 | Gm7 | C7 | Fmaj7 | D7 | Gm7 C7 | F6",
                             "plan \"p\" for band\n  depth 1\n" + lines));
    };
    CHECK(
        said("  take minor-third at A:1\n") ==
        "No rule of the family minor-third can stand at A:1: None of its three rules finds its chords; Fmaj7 "
        "stands there.");
    CHECK(said("  take turnaround at A:4\n  outside 1\n") ==
          "No rule of the family turnaround can stand at A:4: \"Turnaround I iii ii V\" comes nearest. It "
          "fits only "
          "where Fmaj7 D7 Gm7 C7 last 2 bars.");
}

TEST_CASE("where two are taken that do not go together the second is given up", "[reharm]") {
    const auto said = [](const std::string& lines) {
        return taken(planned("Fmaj7 | D7 | Gm7 | C7 | Fmaj7 | D7 | Gm7 C7 | F6",
                             "plan \"p\" for band\n  outside 2\n  take minor-two-five at A:3\n" + lines));
    };
    CHECK(said("  take tritone at A:4\n") ==
          "Tritone substitute cannot stand at A:4: It does not go with what else the plan takes.");
    CHECK(said("  at most 1 change in the tune\n") ==
          "Minor ii-V into a major chord cannot stand at A:3: The plan has no room for it: it allows 1 "
          "change.");
}

TEST_CASE("a tune that stays as it is says why", "[reharm]") {
    const auto said = [](const std::string& changes, const std::string& lines,
                         const std::string& who = "band") {
        const auto outcome = choose(planned(changes, "plan \"p\" for " + who + "\n" + lines));
        REQUIRE(outcome.value.has_value());
        REQUIRE(outcome.diagnostics.size() == 1);
        return std::string(outcome.diagnostics.front().code) + " " + outcome.diagnostics.front().sentence;
    };
    const std::string plain = "Gm7 | C7 | Fmaj7 | Fmaj7";
    CHECK(said(plain, "  use side-slip\n  outside 5\n") ==
          "no-rule-left All rules that the plan \"p\" uses are for soloists, and these changes are for the "
          "band: the changes stay as they are.");
    CHECK(said(plain, "  hold A:1-4\n") ==
          "no-choice The plan \"p\" holds every chord: the changes stay as they are.");
    CHECK(said("Gm7! | C7! | Fmaj7! | Fmaj7!", "") ==
          "no-choice Every chord is locked with !: the changes stay as they are.");
    CHECK(said("Gm7 | C7 | Fmaj7! | Fmaj7!", "  hold A:1-2\n") ==
          "no-choice Every chord is held by the plan \"p\" or locked with !: the changes stay as they are.");
    CHECK(said("N.C. | N.C.", "") == "no-choice There is no chord to change: the changes stay as they are.");
    CHECK(said("Fmaj7 | Fmaj7 | Fmaj7 | Fmaj7", "  use tritone\n  outside 2\n") ==
          "no-choice No rule that the plan \"p\" uses fits anywhere: the changes stay as they are. relead "
          "options "
          "says at a place what keeps a rule away.");
    CHECK(choose(planned(plain, "plan \"p\" for band\n  use tritone\n")).diagnostics.empty());
}
