// compiler/rules/lint.cpp: rules that read well and yet can never fire, change nothing, or say what another
// rule says.
#include "rules/lint.h"

#include "rules/read_rules.h"
#include "support/catch.h"
#include "text/render.h"

using namespace relead;

namespace {

/// A rule of the name with these lines between its title and its reason.
std::string rule_of(const std::string& name, const std::string& lines) {
    return "rule " + name + "\n  title \"A rule\"\n  outside 2\n" + lines + "  why \"{new} for {old}.\"\n";
}

rules::RuleSet read(const std::string& text, const rules::RuleSet& base = {}) {
    const text::Source source("my.rules", text);
    auto outcome = rules::read_rules(source, base);
    INFO(text::render_all(outcome.diagnostics, {&source, 1}));
    REQUIRE_FALSE(has_errors(outcome.diagnostics));
    REQUIRE(outcome.value.has_value());
    return *outcome.value;
}

std::string codes_of(const Diagnostics& found) {
    std::string codes;
    for (const auto& one : found) codes += (codes.empty() ? "" : " ") + std::string(one.code);
    return codes;
}

}  // namespace

TEST_CASE("a rule that contradicts itself can never fire, and the contradiction is named", "[rules]") {
    struct Row {
        std::string lines, sentence;
    };
    const Row rows[] = {
        {"  find V7\n  when V7 prepares 1\n  unless V7 prepares 1\n  write bII7\n",
         "The rule mine can never fire. It asks for `V7 prepares 1` and refuses it as well."},
        {"  find V7 at least 4 beats at most 2 beats\n  write bII7\n",
         "The rule mine can never fire. It asks that V7 be longer than it allows."},
        {"  find ii7 V7\n  when lasts at least 8 beats\n  when lasts at most 4 beats\n  write iv7, bVII7\n",
         "The rule mine can never fire. It asks that all that it finds be longer than it allows."},
        {"  find V7\n  when V7 is min\n  write bII7\n",
         "The rule mine can never fire. No chord that it finds there can be what it asks: `V7 is min`."},
        {"  find V7\n  unless V7 is dom\n  write bII7\n",
         "The rule mine can never fire. Every chord that it finds there is what it refuses: `V7 is dom`."},
        {"  find V7\n  when home is major\n  when home is minor\n  write bII7\n",
         "The rule mine can never fire. It asks for major and for minor at once."},
    };
    for (const auto& row : rows) {
        INFO(row.lines);
        const auto found = rules::lint_rules(read(rule_of("mine", row.lines)));
        REQUIRE(codes_of(found) == "rules-never-fires");
        CHECK(found.front().severity == Severity::warning);
        CHECK(found.front().sentence == row.sentence);
    }
}

TEST_CASE("contexts that exclude each other are found by trying", "[rules]") {
    const auto lines = "  find V7\n  before 1:maj\n  before 1:min\n  write bII7\n";
    const auto found = rules::lint_rules(read(rule_of("mine", lines)));
    REQUIRE(codes_of(found) == "rules-never-fires");
    CHECK(found.front().sentence.find("The rule mine fires on none of ") == 0);
    CHECK(rules::lint_rules(read(rule_of("mine", "  find V7\n  before 1:maj\n  write bII7\n"))).empty());
}

TEST_CASE("a rule that does not fire on its own example is told so at the example", "[rules]") {
    struct Row {
        std::string lines, code;
    };
    const Row rows[] = {
        {"  find V7\n  write bII7\n  example \"ii7 | Imaj7\"\n", "rules-idle-example"},
        {"  find V7\n  write bII7\n  example \"ii7 | V7 | Imaj7\"\n", ""},
        // The blues is not the first mode that these numerals suggest.
        {"  find I7\n  when home is blues\n  write bII7\n  example \"I7 | IV7 | I7\"\n", ""},
        // An example holds no melody: what is asked of one is not asked there.
        {"  find V7\n  when melody holds 5\n  write bII7\n  example \"ii7 | V7 | Imaj7\"\n", ""},
        {"  find V7\n  when melody holds 5\n  write bII7\n  example \"ii7 | Imaj7\"\n", "rules-idle-example"},
    };
    for (const auto& row : rows) {
        INFO(row.lines);
        const auto set = read(rule_of("mine", row.lines));
        const auto found = rules::lint_rules(set);
        REQUIRE(codes_of(found) == row.code);
        if (found.empty()) continue;
        CHECK(found.front().severity == Severity::remark);
        CHECK(found.front().sentence ==
              "The rule mine does not fire on its own example, so that a chart made to fit it is shown "
              "instead. Write changes where it fires, or leave the line out.");
        CHECK(found.front().span.begin == set.rules.front().example_span.begin);
    }
}

TEST_CASE("a rule that writes what it finds", "[rules]") {
    CHECK(codes_of(rules::lint_rules(read(rule_of("mine", "  find ii7 V7\n  write same 1, same 2\n")))) ==
          "rules-changes-nothing");
    CHECK(rules::lint_rules(read(rule_of("mine", "  find V7\n  write same with #11\n"))).empty());
}

TEST_CASE("a rule that says what another says, or says it of fewer places", "[rules]") {
    const auto wide = rule_of("wide", "  find V7\n  write bII7\n");
    struct Row {
        std::string lines, code;
    };
    const Row rows[] = {
        {"  find V7\n  write bII7\n", "rules-repeats"},
        {"  find V7\n  before 1:min\n  write bII7\n", "rules-narrower"},
        {"  find V7 at least 2 beats\n  write bII7\n", "rules-narrower"},
        {"  find V7\n  when V7 prepares 1\n  write bII7\n", "rules-narrower"},
        {"  find V7\n  write bII7 with #11\n", ""},
        {"  find V7\n  write iv7, bVII7\n", ""},
        {"  find ii7 V7\n  write bII7\n", ""},
    };
    for (const auto& row : rows) {
        INFO(row.lines);
        const auto found = rules::lint_rules(read(wide + rule_of("other", row.lines)));
        REQUIRE(codes_of(found) == row.code);
        if (!found.empty()) CHECK(found.front().sentence.find("other") != std::string::npos);
    }
    // The wider rule behind the narrower one: it is still the narrower one that says nothing new.
    const auto turned =
        rules::lint_rules(read(rule_of("narrow", "  find V7\n  before 1:min\n  write bII7\n") + wide));
    REQUIRE(codes_of(turned) == "rules-narrower");
    CHECK(turned.front().sentence == "Wherever the rule narrow fires, wide writes the same chords already.");
}

TEST_CASE("only the user's own rules are looked at, beside all others", "[rules]") {
    CHECK(rules::lint_rules(rules::built_in_rules()).empty());
    auto again = rules::built_in_rules().find("tritone")->text;
    again.replace(again.find("tritone"), 7, "mine");
    const auto found = rules::lint_rules(read(again, rules::built_in_rules()));
    REQUIRE(codes_of(found) == "rules-repeats");
    CHECK(found.front().sentence == "The rule mine does what tritone does already.");
}

TEST_CASE("no built-in rule contradicts itself, writes what it finds, or repeats another", "[rules]") {
    std::string said;
    for (const auto& one : rules::lint_rules(rules::built_in_rules(), rules::LintScope::all))
        said += one.sentence + "\n";
    CHECK(said == "");
}
