// compiler/syntax/parse_rules.cpp and compiler/rules/read_rules.cpp: everything that can be wrong in a rule
// has a code, a place, and a sentence.
#include "rules/read_rules.h"
#include "support/catch.h"
#include "text/render.h"

using namespace relead;

namespace {

const std::string good =
    "rule one\n"
    "  title   \"One\"\n"
    "  outside 2\n"
    "  find    ii7 V7\n"
    "  write   iv7, bVII7\n"
    "  why     \"{new} for {old}.\"\n";

Outcome<rules::RuleSet> read(const std::string& text, const rules::RuleSet& base = {}) {
    return rules::read_rules(text::Source("my.rules", text), base);
}

/// `good` with one line changed, or with one more line.
std::string with(const std::string& keyword, const std::string& line) {
    std::string text;
    bool put = false;
    for (std::size_t at = 0; at < good.size();) {
        const auto end = good.find('\n', at);
        const auto old = good.substr(at, end - at);
        const bool same = old.find(keyword) == 2;
        text += (same ? line : old) + "\n";
        put = put || same;
        at = end + 1;
    }
    return put ? text : text + line + "\n";
}

}  // namespace

TEST_CASE("a good rule reads without a word", "[rules]") {
    const auto outcome = read(good);
    REQUIRE(outcome.clean());
    CHECK(outcome.diagnostics.empty());
    const auto& rule = outcome.value->rules.front();
    CHECK(rule.name == "one");
    CHECK(rule.family == "one");
    CHECK(rule.outside == 2);
    CHECK(rule.find.run.size() == 2);
    CHECK(rule.write.size() == 2);
    CHECK_FALSE(rule.built_in);
}

TEST_CASE("each thing that can be wrong has its code", "[rules]") {
    struct Row {
        std::string code;
        std::string text;
    };
    const Row rows[] = {
        {"rules-outside-rule", "title \"One\"\n" + good},
        {"rules-unknown-line", with("colour", "  colour blue")},
        {"rules-line-twice", with("title", "  title \"One\"\n  title \"Two\"")},
        {"rules-line-missing", with("title", "")},
        {"rules-line-missing", with("why", "")},
        {"rules-line-missing", with("find", "")},
        {"rules-extra-words", with("outside", "  outside 2 or 3")},
        {"rules-extra-words", with("before", "  before 1:maj or 1:min")},
        {"rules-extra-words", with("write", "  write bII7,")},
        {"rules-extra-words", with("find", "  find ii7 |")},
        {"rules-bad-name", "rule One Two\n" + good.substr(good.find('\n') + 1)},
        {"rules-bad-level", with("outside", "  outside 6")},
        {"rules-bad-audience", with("for", "  for singers")},
        {"rules-bad-tonic", with("tonic", "  tonic C")},
        {"rules-bad-source", with("source", "  source common knowledge")},
        {"quote-missing", with("title", "  title One")},
        {"quote-unclosed", with("title", "  title \"One")},
        {"rules-bad-run", with("find", "  find")},
        {"rules-bad-run", with("find", "  find ii7? V7")},
        {"rules-bad-run", with("find", "  find any:dom 1:maj")},
        {"rules-bad-length", with("find", "  find V7 at least two beats")},
        {"rules-bad-place", with("find", "  find region last bars")},
        {"rules-bad-condition", with("when", "  when V7 dreams of 1")},
        {"rules-bad-write", with("write", "  write iv7,, bVII7")},
        {"rules-bad-write", with("write", "  write each, bVII7")},
        {"rules-bad-share", with("write", "  write iv7 2/1, bVII7 1/2")},
        {"rules-bad-thread", with("threads", "  threads 3-3")},
        {"rules-bad-thread", with("threads", "  threads 5>3")},
        {"rules-bad-chord", with("find", "  find ii7 W7")},
        {"rules-bad-chord", with("write", "  write iv7, Hm")},
        {"rules-bad-chord", with("write", "  write iv7, same/x")},
        {"rules-unknown-kind", with("before", "  before 1:happy")},
        {"rules-bad-chord", with("before", "  before 9:maj")},
        {"rules-no-such-chord", with("when", "  when vi7 prepares 1")},
        {"rules-no-such-chord", with("write", "  write iv7 @3, bVII7")},
        {"rules-no-such-chord", with("when", "  when melody holds 3 of new4")},
        {"rules-no-such-chord", with("when", "  when melody holds 3 of new0")},
        {"rules-no-such-chord", with("threads", "  threads @3 3>3")},
        {"rules-shares-do-not-fit", with("write", "  write iv7 1/2, bVII7 1/4")},
        {"rules-shares-do-not-fit", with("write", "  write iv7 rest, bVII7 rest")},
        {"rules-bad-degree", with("write", "  write iv7, bVII7 with 15")},
        {"rules-bad-degree", with("write", "  write iv7, bVII7 with #12")},
        {"rules-bad-degree", with("write", "  write iv7, bVII7 with bb9")},
        {"rules-bad-degree", with("threads", "  threads 3>12")},
        {"rules-bad-degree", with("when", "  when V7 prepares 9")},
        {"rules-bad-degree", with("when", "  when V7 prepares 1 and melody holds 8")},
        {"rules-bad-thread", with("threads", "  threads 3>b3")},
        {"rules-bad-thread", with("threads", "  threads b3>3")},
        {"rules-bad-write", with("write", "  write iv7, bVII7(b9) with 9")},
        {"rules-bad-chord", with("write", "  write iv7, bVII7/12")},
        {"rules-bad-chord", with("write", "  write iv7, same/9 2")},
        {"rules-bad-example", with("example", "  example \"zz | V7\"")},
        {"rules-bad-example", with("example", "  example \"\"")},
        {"rules-bad-example", with("example", "  example \"| ii7 | V7\"")},
        {"rules-bad-example", with("example", "  example \"ii7 V7 Imaj7\"")},
        {"rules-bad-placeholder", with("why", "  why \"{nothing} new.\"")},
        {"rules-name-twice", good + good},
    };
    for (const auto& row : rows) {
        INFO(row.text);
        const auto outcome = read(row.text);
        bool found = false;
        std::string codes;
        for (const auto& one : outcome.diagnostics) {
            codes += std::string(one.code) + " ";
            found = found || one.code == row.code;
            CHECK(one.span.end <= row.text.size());
            CHECK(one.span.begin <= one.span.end);
        }
        INFO("wanted " << row.code << ", got " << codes);
        CHECK(found);
    }
}

TEST_CASE("a class that is not known names the classes", "[rules]") {
    const auto text = with("before", "  before 1:happy");
    const text::Source source("my.rules", text);
    const auto outcome = rules::read_rules(source);
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().sentence ==
          "Rules know no class `happy`. The classes are any, maj, min, m7, dom, sus, "
          "hdim, dim, aug and power.");
    CHECK(source.slice(outcome.diagnostics.front().span) == "1:happy");
}

TEST_CASE("a degree that is none says which one has its note name", "[rules]") {
    struct Row {
        std::string keyword, line, place, instead;
    };
    const Row rows[] = {
        {"write", "  write iv7, bVII7 with #12", "#12", "#5"},
        {"threads", "  threads 3>3, 7>10", "10", "3"},
        {"threads", "  threads 3>3, 7>b7", "b7", "7"},
        {"when", "  when V7 prepares b13", "b13", "b6"},
    };
    for (const auto& row : rows) {
        INFO(row.line);
        const auto text = with(row.keyword, row.line);
        const text::Source source("my.rules", text);
        const auto outcome = rules::read_rules(source);
        REQUIRE(outcome.diagnostics.size() == 1);
        const auto& said = outcome.diagnostics.front();
        CHECK(source.slice(said.span) == row.place);
        REQUIRE(said.fixes.size() == 1);
        CHECK(said.fixes.front().text == row.instead);
        auto mended = text;
        mended.replace(said.span.begin, said.span.end - said.span.begin, row.instead);
        CHECK(read(mended).clean());
    }
}

TEST_CASE("a chord of a rule has one sign at most, and of one with more the same root is named", "[rules]") {
    struct Row {
        std::string code, keyword, line, fix;
    };
    const Row rows[] = {
        {"rules-bad-chord", "find", "  find bbIII7", "II7"},
        {"rules-bad-chord", "find", "  find ii7 ##iv7", "v7"},
        {"rules-bad-chord", "before", "  before bb7:maj", "6:maj"},
        {"rules-bad-chord", "write", "  write iv7, bbiii\u00f87", "ii\u00f87"},
        {"rules-bad-chord", "write", "  write iv7, V7 over bbVI", "V"},
        {"rules-bad-example", "example", "  example \"ii7 | bbII7 | Imaj7\"", "I7"},
    };
    for (const auto& row : rows) {
        INFO(row.line);
        const auto outcome = read(with(row.keyword, row.line));
        REQUIRE_FALSE(outcome.diagnostics.empty());
        const auto& said = outcome.diagnostics.front();
        CHECK(said.code == row.code);
        REQUIRE(said.fixes.size() == 1);
        CHECK(said.fixes.front().text == row.fix);
    }
    const auto outcome = read(with("find", "  find bbIII7"));
    CHECK(outcome.diagnostics.front().sentence ==
          "bbIII7 has several signs; a chord of a rule has one at most. II7 has the same root.");
}

TEST_CASE("an example that is no changes is told at the word or the bar", "[rules]") {
    struct Row {
        std::string example, place, sentence;
    };
    const Row rows[] = {
        {"\"ii7 | zz | Imaj7\"", "zz",
         "zz is no chord of an example: write changes in numerals with their qualities, such as `ii7 | V7 | "
         "Imaj7`."},
        {"\"ii7 V7 Imaj7 | Imaj7\"", "ii7 V7 Imaj7",
         "A bar of an example has one, two or four chords, since they share its four beats evenly; this one "
         "has 3."},
        {"\"ii7 | V7 |\"", "", "A bar of this example has no chord; | stands between two bars only."},
    };
    for (const auto& row : rows) {
        INFO(row.example);
        const text::Source source("my.rules", with("example", "  example " + row.example));
        const auto outcome = rules::read_rules(source);
        REQUIRE(outcome.diagnostics.size() == 1);
        CHECK(outcome.diagnostics.front().sentence == row.sentence);
        CHECK(source.slice(outcome.diagnostics.front().span) == row.place);
    }
    CHECK(read(with("example", "  example \"ii7|V7  |Imaj7\"")).value->rules.front().example ==
          "ii7 | V7 | Imaj7");
}

TEST_CASE("a line that ends with a comma and does not go on is told so, and the next one is read",
          "[rules]") {
    const auto text = with("write", "  write iv7, bVII7,");
    const auto outcome = read(text);
    REQUIRE(outcome.diagnostics.size() == 1);
    const auto& said = outcome.diagnostics.front();
    CHECK(said.sentence == "A line that ends with , goes on in the next one, and that begins with `why`.");
    CHECK(said.span.begin == text.find("bVII7,") + 5);
    CHECK_FALSE(said.fixes.empty());
}

TEST_CASE("lines above the first rule are spoken of once", "[rules]") {
    const auto outcome = read("title \"One\"\noutside 2\nfind V7\n" + good);
    CHECK(outcome.diagnostics.size() == 1);
    CHECK(outcome.value->rules.size() == 1);
}

TEST_CASE("a wrong rule is left out, the others stay", "[rules]") {
    auto bad = good;
    bad.replace(bad.find("one"), 3, "two");
    bad.replace(bad.find("V7"), 2, "Q7");
    const auto outcome = read(good + bad);
    REQUIRE(outcome.value.has_value());
    CHECK(outcome.value->rules.size() == 1);
    CHECK(has_errors(outcome.diagnostics));
}

TEST_CASE("a rule of one's own takes the place of a built-in one", "[rules]") {
    auto mine = good;
    mine.replace(mine.find("one"), 3, "tritone");
    const auto outcome = read(mine, rules::built_in_rules());
    REQUIRE(outcome.clean());
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().code == "rules-replaces");
    CHECK(outcome.value->rules.size() == rules::built_in_rules().rules.size());
    CHECK(outcome.value->find("tritone")->title == "One");
    CHECK_FALSE(outcome.value->find("tritone")->built_in);
}

TEST_CASE("more rules than the limit", "[rules]") {
    Limits limits;
    limits.rules = 1;
    auto second = good;
    second.replace(second.find("one"), 3, "two");
    const auto outcome = rules::read_rules(text::Source("my.rules", good + second), {}, limits);
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().code == "too-many-rules");
}

TEST_CASE("the nearest rule name", "[rules]") {
    CHECK(rules::nearest_rule(rules::built_in_rules(), "tritones") == "tritone");
    CHECK(rules::nearest_rule(rules::built_in_rules(), "backdor") == "backdoor");
    CHECK(rules::nearest_rule(rules::built_in_rules(), "polka").empty());
}
