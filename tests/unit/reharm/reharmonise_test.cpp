// compiler/reharm/reharmonise.cpp: whole versions of small tunes, what plans ask for, what they refuse.
#include "reharm/reharmonise.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>

#include "analysis/analysis.h"
#include "report/change_table.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "text/render.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

/// The first rules alone, so that these tests do not move when the others grow.
const rules::RuleSet& few_rules() {
    static const rules::RuleSet set = [] {
        rules::RuleSet few;
        for (const auto& rule : rules::built_in_rules().rules) {
            if (rule.name == "tritone" || rule.name == "backdoor" || rule.name == "backdoor-dominant" ||
                rule.name.rfind("related-ii", 0) == 0)
                few.rules.push_back(rule);
        }
        return few;
    }();
    return set;
}

Outcome<reharm::Choices> choose(const tune::Tune& tune, const reharm::Wish& wish = {}) {
    const auto reading = testing::plain_reading(tune);
    return reharm::reharmonise(tune, reading, few_rules(), wish);
}

std::string changes_of(const reharm::Version& version) {
    std::string text;
    for (const auto& row : report::change_table(version))
        text += row.place + " " + row.old_changes + " > " + row.new_changes + "\n";
    return text;
}

std::string first_version(const tune::Tune& tune, const reharm::Wish& wish = {}) {
    const auto outcome = choose(tune, wish);
    REQUIRE(outcome.value.has_value());
    return changes_of(outcome.value->versions.front());
}

std::string row_of(const tune::Tune& tune, bool soloist) {
    std::string text;
    for (const auto& bar : tune.sections.front().bars) {
        const auto& events = soloist ? bar.soloist.value_or(std::vector<tune::ChordEvent>{}) : bar.changes;
        for (const auto& event : events) text += theory::to_string(event.chord) + " ";
        text += "| ";
    }
    return text;
}

tune::Tune with_plan(const std::string& lines, const std::string& who = "band",
                     const std::string& changes = "Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | Cmaj7 | Dm7 | G7") {
    return testing::small_tune("C major", changes, {}, "plan \"p\" for " + who + "\n" + lines);
}

tune::Tune sample(const std::string& name) {
    std::ifstream file(RELEAD_SOURCE_DIR "/samples/tunes/" + name + ".tune");
    std::stringstream bytes;
    bytes << file.rdbuf();
    return testing::read_whole(bytes.str());
}

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

TEST_CASE("one change with its reason", "[reharm]") {
    const auto tune = with_plan("  use tritone\n  at most 1 changes in each section\n");
    const auto outcome = choose(tune);
    REQUIRE(outcome.clean());
    const auto& version = outcome.value->versions.front();
    REQUIRE(version.changes.size() == 1);
    const auto row = report::change_table(version).front();
    CHECK(row.place == "A:4");
    CHECK(row.old_changes == "G7");
    CHECK(row.new_changes == "Db7");
    CHECK(row.rule == "Tritone substitute");
    CHECK(row.old_motion == "B held, F>E");
    CHECK(row.new_motion == "F>E, Cb=B");
    CHECK(row.reason == "Db7 keeps B and F of G7 and falls a half step to Cmaj7.");
    CHECK(row.melody == "Melody unknown: not checked.");
    CHECK(row_of(version.tune, false) == "Cmaj7 | A7 | Dm7 | Db7 | Cmaj7 | Cmaj7 | Dm7 | G7 | ");
    CHECK(version.stamp.hash.size() == 8);
    CHECK(version.tune.stamp->plan == "p");
    CHECK(version.idea == "Tritone substitute.");
    int sum = 0;
    for (const auto& term : version.changes.front().terms) sum += term.value;
    CHECK(sum == version.changes.front().cost);
}

TEST_CASE("a version about the same as an earlier one says where it differs", "[reharm]") {
    reharm::Wish wish;
    wish.versions = 2;
    const auto outcome = choose(with_plan("  use tritone\n  at most 1 changes in each section\n"), wish);
    REQUIRE(outcome.value.has_value());
    const auto& versions = outcome.value->versions;
    REQUIRE(versions.size() == 2);
    CHECK(changes_of(versions[0]) == "A:4 G7 > Db7\n");
    CHECK(changes_of(versions[1]) == "A:8 G7 > Db7\n");
    CHECK(versions[0].idea == "Tritone substitute.");
    CHECK(versions[1].idea == "Tritone substitute. Against p: new at A:8; without the change at A:4.");
    // Whoever holds a sheet must see which version it is, not only by whose plan.
    CHECK(versions[0].stamp.plan == "p");
    CHECK(versions[1].stamp.plan == "p 2");
    CHECK(versions[1].tune.stamp->plan == "p 2");
}

TEST_CASE("a plan that counts changes gets versions of one idea each too", "[reharm]") {
    const std::string changes =
        "Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7";
    reharm::Wish wish;
    wish.versions = 2;
    const auto outcome = choose(
        with_plan("  use tritone, related-ii\n  at most 6 changes in the tune\n", "band", changes), wish);
    REQUIRE(outcome.clean());
    REQUIRE(outcome.value->versions.size() == 2);
    std::vector<std::string> first_words;
    for (const auto& version : outcome.value->versions) {
        INFO(version.idea << "\n" << changes_of(version));
        std::map<std::string, std::size_t> uses;
        for (const auto& change : version.changes) ++uses[change.rule];
        CHECK(version.changes.size() > 4);
        CHECK(version.changes.size() <= 6);
        for (const auto& [rule, count] : uses) CHECK(count * 2 <= version.changes.size());
        first_words.push_back(version.idea.substr(0, version.idea.find(':')));
    }
    CHECK(first_words == std::vector<std::string>{"Dominants from a half step above", "More ii-Vs"});
}

/// How many changes of version `number` begin where one of an earlier version does and have the same roots;
/// what the plan takes is not counted. Read from the changes alone.
std::pair<std::size_t, std::size_t> said_before(const std::vector<reharm::Version>& versions,
                                                std::size_t number) {
    const auto roots = [](const reharm::Change& change) {
        std::vector<int> found;
        for (const auto& chord : change.new_chords) {
            found.push_back(theory::pitch_class(chord.root));
            found.push_back(theory::pitch_class(chord.bass.value_or(chord.root)));
        }
        return found;
    };
    std::size_t all = 0, before = 0;
    for (const auto& change : versions[number].changes) {
        if (change.taken) continue;
        ++all;
        for (std::size_t v = 0; v < number; ++v) {
            const auto& earlier = versions[v].changes;
            if (std::any_of(earlier.begin(), earlier.end(), [&](const reharm::Change& other) {
                    return other.first == change.first && roots(other) == roots(change);
                })) {
                ++before;
                break;
            }
        }
    }
    return {before, all};
}

TEST_CASE("half of the changes of a version and more are not those of an earlier one", "[reharm]") {
    for (const auto* name : {"ferry-at-first-light", "slack-rope", "two-lighthouses"}) {
        const auto tune = sample(name);
        reharm::Wish wish;
        wish.versions = 3;
        const auto outcome =
            reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
        REQUIRE(outcome.value.has_value());
        const auto& versions = outcome.value->versions;
        REQUIRE(versions.size() == 3);
        for (std::size_t v = 1; v < versions.size(); ++v) {
            INFO(name << ": " << versions[v].idea << "\n" << changes_of(versions[v]));
            const auto [before, all] = said_before(versions, v);
            CHECK(all > 0);
            CHECK(before * 2 <= all);
        }
    }
}

TEST_CASE("what the plan takes is not what a version is about", "[reharm]") {
    reharm::Wish wish;
    wish.versions = 2;
    const auto outcome = choose(with_plan("  use tritone, related-ii\n  take tritone at A:4\n"
                                          "  at most 3 changes in the tune\n"),
                                wish);
    REQUIRE(outcome.clean());
    REQUIRE(outcome.value->versions.size() == 2);
    std::vector<std::string> first_words;
    for (const auto& version : outcome.value->versions) {
        INFO(changes_of(version));
        CHECK(std::count_if(version.changes.begin(), version.changes.end(),
                            [](const reharm::Change& change) { return change.taken; }) == 1);
        CHECK(changes_of(version).find("A:4 G7 > Db7") != std::string::npos);
        first_words.push_back(version.idea.substr(0, version.idea.find(':')));
    }
    CHECK(std::find(first_words.begin(), first_words.end(), "More ii-Vs") != first_words.end());
}

TEST_CASE("where a plan leaves one rule only it is used as often as the count allows", "[reharm]") {
    const auto outcome = choose(with_plan("  use tritone\n  at most 3 changes in the tune\n"));
    REQUIRE(outcome.clean());
    CHECK(outcome.value->versions.front().changes.size() == 3);
}

TEST_CASE("what plans hold, lock, refuse and ask for", "[reharm]") {
    CHECK(first_version(with_plan("  use tritone\n  hold A:4, A:8\n")) == "A:2 A7 > Eb7\n");
    CHECK(first_version(
              with_plan("  use tritone\n  never at A:2\n  never tritone at A:4\n  never related-ii at A:8\n"
                        "  at most 1 changes in each section\n")) == "A:8 G7 > Db7\n");
    CHECK(first_version(with_plan("  use tritone\n  hold A:4\n", "band",
                                  "Cmaj7 | A7! | Dm7 | G7 | Cmaj7 | Cmaj7 | Dm7 | G7!"))
              .empty());
    CHECK(first_version(with_plan("  use tritone, related-ii\n  take related-ii-minor at A:2\n"
                                  "  at most 1 changes in each section\n")) == "A:2 A7 > Em7b5 A7\n");
    reharm::Wish wish;
    wish.hold = {*tune::parse_address("A:2-4")};
    CHECK(first_version(with_plan("  use tritone\n"), wish) == "A:8 G7 > Db7\n");
    wish.avoid = {"tritone"};
    CHECK(first_version(with_plan("  use tritone\n"), wish).empty());
}

TEST_CASE("the ceiling is never passed, and two rules may stand on each other", "[reharm]") {
    CHECK(first_version(with_plan("  use tritone\n  outside 1\n")).empty());
    const auto stacked =
        first_version(with_plan("  use tritone, related-ii-of-substitute\n  take related-ii-of-substitute at "
                                "A:4\n  hold A:2, A:8\n"));
    CHECK(stacked == "A:4 G7 > Abm7 Db7\n");
    CHECK(first_version(with_plan("  depth 1\n  use tritone, related-ii-of-substitute\n"
                                  "  take related-ii-of-substitute at A:4\n  hold A:2, A:8\n")) ==
          "A:4 G7 > Db7\n");
}

TEST_CASE("a wish wins over its plan", "[reharm]") {
    const auto tune = with_plan("  outside 2\n  depth 1\n  use tritone\n");
    reharm::Wish wish;
    CHECK(choose(tune, wish).value->plan.depth == 1);
    wish.depth = 3;
    wish.outside = 4;
    wish.use = {"backdoor"};
    const auto outcome = choose(tune, wish);
    const auto& plan = outcome.value->plan;
    CHECK(plan.depth == 3);
    CHECK(plan.outside == 4);
    REQUIRE(plan.use.size() == 1);
    CHECK(plan.use.front().name == "backdoor");
}

TEST_CASE("what cannot be taken says why", "[reharm]") {
    struct Row {
        std::string lines, changes, sentence;
        std::vector<std::string> rows;
    };
    const std::vector<Row> rows = {
        {"take tritone at A:2",
         "Fm7 | Bb7 | Cmaj7 | Cmaj7",
         "Tritone substitute cannot stand at A:2: After Bb7 it needs a major chord, a minor chord or a "
         "dominant on "
         "Eb; Cmaj7 stands there.",
         {}},
        {"take tritone at A:2",
         "Dm7 | G7 | Cmaj7 | Cmaj7",
         "Tritone substitute cannot stand at A:2: The melody holds C there, the 4 of G.",
         {"melody | w F4 | h C5 h B4 | w B4 | w r |"}},
        {"take tritone at A:2",
         "Dm7 | G7 | Cmaj7 | Cmaj7",
         "Tritone substitute cannot stand at A:2: The melody holds F# there, the 7 of G.",
         {"melody | w F4 | h F#4 h B4 | w B4 | w r |"}},
        {"take tritone at A:4",
         "Cmaj7 | Dm7 | Am7 | D7 | Dm7 | G7",
         "Tritone substitute cannot stand at A:4: After D7 it needs a major chord, a minor chord or a "
         "dominant on G; "
         "Dm7 stands there.",
         {}},
    };
    for (const auto& row : rows) {
        INFO(row.changes);
        const auto tune = testing::small_tune("C major", row.changes, row.rows,
                                              "plan \"p\" for band\n  " + row.lines + "\n");
        const auto outcome = choose(tune);
        REQUIRE(outcome.diagnostics.size() == 1);
        CHECK(outcome.diagnostics.front().code == "take-not-possible");
        CHECK(outcome.diagnostics.front().sentence == row.sentence);
    }
}

TEST_CASE("unknown names have their nearest", "[reharm]") {
    const auto outcome = choose(with_plan("  use tritones\n"));
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().code == "unknown-rule");
    CHECK(outcome.diagnostics.front().fixes.front().text == "tritone");
    reharm::Wish wish;
    wish.plan = "q";
    const auto none = choose(with_plan("  use tritone\n"), wish);
    CHECK_FALSE(none.value.has_value());
    CHECK(none.diagnostics.front().code == "unknown-plan");
    CHECK(none.diagnostics.front().sentence == "The tune has no plan \"q\". Its only plan is \"p\".");
}

TEST_CASE("wishes that contradict each other, and plans that leave nothing to choose", "[reharm]") {
    const auto said = [](const std::string& lines, const reharm::Wish& wish) {
        const auto outcome = choose(with_plan(lines), wish);
        return outcome.diagnostics.empty() ? "" : outcome.diagnostics.front().sentence;
    };
    reharm::Wish both;
    both.use = both.avoid = {"tritone"};
    CHECK(said("", both) == "The plan \"p\" leaves no rule to use: the changes stay as they are.");
    reharm::Wish beyond;
    beyond.around = 4;
    CHECK(said("  outside 2\n", beyond) ==
          "Around 4 lies beyond the ceiling, outside 2: raise the ceiling or wish for less.");
    CHECK(said("", beyond).empty());
    reharm::Wish without;
    without.avoid = {"tritone"};
    CHECK(said("  use tritone\n", without) ==
          "The plan \"p\" leaves no rule to use: the changes stay as they are.");
    CHECK(said("  use tritone, backdoor\n", without).empty());
    CHECK(
        said("  use tritone\n  outside 1\n", {}) ==
        "All rules that the plan \"p\" uses lead further outside (2) than its ceiling (1): the changes stay "
        "as they are.");
}

TEST_CASE("for a soloist the rhythm section keeps the written changes", "[reharm]") {
    const auto tune = with_plan("  use tritone\n  hold A:2, A:8\n", "soloist on solos");
    const auto outcome = choose(tune);
    REQUIRE(outcome.value.has_value());
    const auto& version = outcome.value->versions.front();
    CHECK(changes_of(version) == "A:4 G7 > Db7\n");
    CHECK(row_of(version.tune, false) == row_of(tune, false));
    CHECK(row_of(version.tune, true) == "| | | Db7 | | | | | ");
}

TEST_CASE("a chord lasts long enough to be played", "[reharm]") {
    // At 300 beats a minute two beats are 0.4 seconds.
    const auto fast = testing::read_whole(
        "tune \"Fast\"\nkey C major\nmeter 4/4\ntempo 300 swing\nform A\nsection A\n"
        "changes | Cmaj7 | G7 | Cmaj7 | Cmaj7 |\nplan \"p\" for band\n  use related-ii\n  take related-ii at "
        "A:2\n");
    const auto outcome = choose(fast);
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().sentence ==
          "Related ii cannot stand at A:2: Dm7 would last 0.40 seconds: too short to play.");
}

TEST_CASE("each time different gives every playing a section of its own", "[reharm]") {
    const auto tune = testing::read_whole(
        "tune \"Twice\"\nkey C major\nmeter 4/4\nform A B A\nsection A\nchanges | Dm7 | G7 | Cmaj7 | A7 |\n"
        "section B\nchanges | Fmaj7 | E7 | Am7 | D7 |\nplan \"p\" for band\n  use tritone\n  each time "
        "different\n"
        "  at most 1 changes in the tune\n");
    const auto outcome = choose(tune);
    REQUIRE(outcome.value.has_value());
    const auto& version = outcome.value->versions.front().tune;
    REQUIRE(version.sections.size() == 3);
    CHECK(version.sections[0].name == "A1");
    CHECK(version.sections[1].name == "B");
    CHECK(version.sections[2].name == "A2");
    CHECK(outcome.value->versions.front().changes.size() == 1);
}

TEST_CASE("versions of the samples stay within their plans", "[reharm]") {
    for (const auto* name :
         {"ferry-at-first-light", "herring-shift", "sea-lavender", "gulls-over-the-glasshouse"}) {
        const auto tune = sample(name);
        const auto reading = analysis::analyse(tune);
        for (const auto& plan : tune.plans) {
            INFO(name << " " << plan.name);
            reharm::Wish wish;
            wish.plan = plan.name;
            const auto outcome = reharm::reharmonise(tune, reading, rules::built_in_rules(), wish);
            REQUIRE(outcome.value.has_value());
            const auto& version = outcome.value->versions.front();
            CHECK_FALSE(version.changes.empty());
            for (const auto& change : version.changes) {
                CHECK(change.outside <= plan.outside.value_or(5));
                CHECK_FALSE(change.reason.empty());
                CHECK(change.reason.find('{') == std::string::npos);
                CHECK_FALSE(change.melody.has_new_clash());
            }
            const auto again = reharm::reharmonise(tune, reading, rules::built_in_rules(), wish);
            CHECK(again.value->versions.front().stamp.hash == version.stamp.hash);
        }
    }
}

TEST_CASE("the twelve keys give the same version", "[reharm]") {
    const auto tune = sample("ferry-at-first-light");
    const auto choices = [](const tune::Tune& t) {
        std::vector<std::string> all;
        const auto outcome = choose(t);
        for (const auto& change : outcome.value->versions.front().changes)
            all.push_back(text::to_string(change.place) + " " + change.rule + " " +
                          std::to_string(change.cost));
        return all;
    };
    const auto here = choices(tune);
    for (const int fifths : {-6, -5, -4, -3, -2, 0, 1, 2, 3, 4, 5}) {
        const auto there = tune::transpose_to(tune, theory::NoteName{fifths});
        INFO(theory::to_string(there.key));
        CHECK(choices(there) == here);
    }
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
