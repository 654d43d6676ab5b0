// compiler/pipeline/rule_example.cpp: every built-in rule is shown at work in all twelve keys, by its own
// example and by charts made from what it looks for.
#include "pipeline/rule_example.h"

#include <string>

#include "rules/example_chart.h"
#include "rules/lint.h"
#include "rules/read_rules.h"
#include "support/catch.h"

using namespace relead;

namespace {

const char* const twelve[] = {"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"};

theory::NoteName note(std::string_view name) {
    return *theory::parse_note_name(name);
}

rules::Rule rule_of(const std::string& text) {
    const auto outcome = rules::read_rules(text::Source("my.rules", text));
    REQUIRE(outcome.value.has_value());
    return outcome.value->rules.front();
}

std::string row(const report::RuleExample& example, bool now) {
    std::string text;
    for (const auto& section : example.bars) {
        for (const auto& bar : section.bars)
            text += (text.empty() ? "" : " | ") + (now && !bar.now.empty() ? bar.now : bar.was);
    }
    return text;
}

}  // namespace

TEST_CASE("every built-in rule is shown at work in all twelve keys", "[rules]") {
    for (const auto& rule : rules::built_in_rules().rules) {
        for (const auto* key : twelve) {
            INFO(rule.name << " in " << key);
            const auto example = pipeline::rule_example(rule, note(key));
            REQUIRE(example.has_value());
            CHECK(example->from_rule);
            CHECK(example->refusals.empty());
            const auto tonic = theory::parse_note_name(example->key.substr(0, example->key.find(' ')));
            REQUIRE(tonic.has_value());
            CHECK(theory::pitch_class(*tonic) == theory::pitch_class(note(key)));
            CHECK(row(*example, true) != row(*example, false));
            CHECK_FALSE(example->change.old_motion.empty());
            CHECK_FALSE(example->change.new_motion.empty());
            CHECK_FALSE(example->change.reason.empty());
            CHECK(example->change.reason.find('{') == std::string::npos);
        }
    }
}

TEST_CASE("a chart can be made for nearly every rule that brings no example", "[rules]") {
    int shown = 0;
    std::string silent;
    for (auto rule : rules::built_in_rules().rules) {
        rule.example.clear();
        const auto example = pipeline::rule_example(rule, note("C"));
        if (example && example->refusals.empty()) {
            CHECK_FALSE(example->from_rule);
            ++shown;
        } else {
            silent += rule.name + " ";
        }
    }
    INFO("not shown: " << silent);
    CHECK(shown == static_cast<int>(rules::built_in_rules().rules.size()));
}

TEST_CASE("a rule of one's own without an example is shown on changes that fit it", "[rules]") {
    const std::string head = "rule mine\n  title \"Mine\"\n  outside 2\n  why \"{new} for {old}.\"\n";
    struct Row {
        std::string lines;
        std::string key;
        std::string was, now;
    };
    const Row rows[] = {
        {"  find V7\n  before 1:maj\n  write bII7\n", "Eb major", "Fm7 | Bb7 | Ebmaj7 | Ebmaj7",
         "Fm7 | E7 | Ebmaj7 | Ebmaj7"},
        // Nothing in ordinary changes has a sharp fourth.
        {"  find #ivø7\n  before 4:min\n  write iv6\n", "Eb major", "Am7b5 | Abm7 | Ebmaj7 | Ebmaj7",
         "Abm6 | Abm7 | Ebmaj7 | Ebmaj7"},
        {"  find ii7 at most 2 beats V7 at most 2 beats\n  before 1:maj\n  write bII7\n", "Eb major",
         "Ebmaj7 Cm7 | Fm7 Bb7 | Ebmaj7 | Ebmaj7", "Ebmaj7 Cm7 | E7 | Ebmaj7 | Ebmaj7"},
        {"  find V7\n  before 1:maj\n  when melody holds 5 of V7\n  write ii7 1/2, V7 1/2\n", "Eb major", "",
         ""},
    };
    for (const auto& one : rows) {
        INFO(one.lines);
        const auto example = pipeline::rule_example(rule_of(head + one.lines), note("Eb"));
        REQUIRE(example.has_value());
        CHECK(example->key == one.key);
        CHECK_FALSE(example->from_rule);
        if (!one.was.empty()) CHECK(row(*example, false) == one.was);
        if (!one.was.empty()) CHECK(row(*example, true) == one.now);
        CHECK(example->refusals.empty());
    }
}

TEST_CASE("a rule that can fire nowhere has no example, a refused one says why", "[rules]") {
    const std::string head = "rule mine\n  title \"Mine\"\n  outside 2\n  why \"{new} for {old}.\"\n";
    CHECK_FALSE(
        pipeline::rule_example(rule_of(head + "  find V7\n  when V7 is minor\n  write bII7\n"), note("C"))
            .has_value());
    // From F#maj7 no guide tone finds its way into Cmaj7 within a whole step.
    const auto refused = pipeline::rule_example(
        rule_of(head + "  find V7\n  before 1:maj\n  threads 3>3, 7>7\n  write #IVmaj7\n"), note("C"));
    REQUIRE(refused.has_value());
    CHECK_FALSE(refused->refusals.empty());
    CHECK(refused->bars.empty());
}

TEST_CASE("an example on which a rule fires and may not be played is told with what speaks against it",
          "[rules]") {
    const auto said = [](const std::string& lines) {
        const text::Source source(
            "my.rules", "rule mine\n  title \"Mine\"\n  outside 2\n  why \"{new} for {old}.\"\n" + lines);
        const auto set = rules::read_rules(source);
        REQUIRE(set.value.has_value());
        CHECK(rules::lint_rules(*set.value).empty());
        const auto found = pipeline::refused_examples(*set.value);
        if (found.empty()) return std::string();
        CHECK(found.front().code == "rules-idle-example");
        CHECK(found.front().span.begin == set.value->rules.front().example_span.begin);
        return found.front().sentence;
    };
    const std::string example = "  example \"ii7 | V7 | Imaj7\"\n";
    CHECK(said("  find V7\n  before 1:maj\n  write bII7\n" + example).empty());
    CHECK(said("  find V7\n  before 1:maj\n  threads 3>3, 7>7\n  write #IVmaj7\n" + example) ==
          "The rule mine fires on its own example, but may not be played there: From F#maj7 to Cmaj7 a guide "
          "tone "
          "would leap: A# (3) leaps up to E (3). Write changes where it may, or leave the line out.");
}

TEST_CASE("a mode that is asked for is kept to", "[rules]") {
    const auto rule = rule_of(
        "rule mine\n  title \"Mine\"\n  outside 2\n  why \"{new} for {old}.\"\n  find V7\n  before 1:min\n  "
        "write bII7\n");
    const auto example = pipeline::rule_example(rule, note("G#"), theory::Mode::minor);
    REQUIRE(example.has_value());
    CHECK(example->key == "G# minor");
    const auto blues = pipeline::rule_example(rule, note("C"), theory::Mode::blues);
    CHECK((!blues || blues->key == "C blues"));
}

TEST_CASE("changes in numerals become chords of a key", "[rules]") {
    const theory::Key key{note("Ab"), theory::Mode::major};
    CHECK(rules::realise_changes("ii7 | V7 | Imaj7", key) == "Bbm7 | Eb7 | Abmaj7");
    CHECK_FALSE(rules::realise_changes("ii7 | Q7", key).has_value());
    CHECK_FALSE(rules::realise_changes("", key).has_value());
}
