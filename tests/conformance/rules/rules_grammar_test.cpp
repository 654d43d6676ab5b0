// grammar/rules.ebnf against compiler/syntax and compiler/rules: what the grammar generates is read without
// an error, but for the conditions that the grammar lists by their codes; broken texts never do harm.
#include <fstream>
#include <regex>
#include <sstream>

#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/ebnf.h"
#include "syntax/parse_rules.h"
#include "text/render.h"

using namespace relead;
using testing::Ebnf;

namespace {

const std::string& grammar_text() {
    static const std::string text = [] {
        std::ifstream file(RELEAD_SOURCE_DIR "/grammar/rules.ebnf");
        std::stringstream bytes;
        bytes << file.rdbuf();
        return bytes.str();
    }();
    return text;
}

/// Codes of the conditions "C5 rules-name-twice …" in the grammar's first comment.
std::set<std::string> listed_conditions() {
    std::set<std::string> codes;
    const std::regex line("\n   C[0-9]+ +([a-z-]+)");
    for (std::sregex_iterator match(grammar_text().begin(), grammar_text().end(), line), end; match != end;
         ++match)
        codes.insert((*match)[1]);
    return codes;
}

std::string broken(std::string text, std::mt19937& random) {
    static constexpr std::string_view signs = "|,>?()\"@:/-b#1V \n\t\xC3";
    for (unsigned changes = 1 + random() % 4; changes > 0 && !text.empty(); --changes) {
        const auto at = random() % text.size();
        switch (random() % 4) {
            case 0:
                text.erase(at, 1 + random() % 6);
                break;
            case 1:
                text.insert(at, 1, signs[random() % signs.size()]);
                break;
            case 2:
                text[at] = signs[random() % signs.size()];
                break;
            default: {
                const auto from = random() % text.size();
                text.insert(at, text.substr(from, 1 + random() % 9));
                break;
            }
        }
    }
    return text;
}

}  // namespace

TEST_CASE("The grammar of rules is complete", "[grammar]") {
    const Ebnf grammar(grammar_text());
    CHECK(grammar.undefined().empty());
    CHECK(grammar.unreached("Rules").empty());
    CHECK(listed_conditions().size() == 7);
}

TEST_CASE("What the grammar of rules generates is read", "[grammar]") {
    const Ebnf grammar(grammar_text());
    const auto conditions = listed_conditions();
    unsigned read = 0;
    for (unsigned seed = 1; seed <= 2000; ++seed) {
        std::mt19937 random(seed);
        const auto text = grammar.sentence("Rules", random);
        const auto source = text::read_source("sentence", text);
        REQUIRE(source.value);
        const auto outcome = rules::read_rules(*source.value);
        for (const auto& one : outcome.diagnostics) {
            if (one.severity != Severity::error || conditions.count(std::string(one.code)) > 0) continue;
            const std::vector<text::Source> sources{*source.value};
            FAIL("seed " << seed << ": " << text::render(one, sources));
        }
        read += outcome.clean() ? 1 : 0;
    }
    INFO(read << " texts without any error");
}

TEST_CASE("Each line of a rule by itself", "[grammar]") {
    const Ebnf grammar(grammar_text());
    for (const auto* symbol :
         {"FindLine", "ContextLine", "ConditionLine", "WriteLine", "ThreadsLine", "TonicLine"}) {
        for (unsigned seed = 1; seed <= 600; ++seed) {
            std::mt19937 random(seed);
            const auto text = "rule one\n" + grammar.sentence(symbol, random) + "\n";
            const auto source = text::read_source("line", text);
            REQUIRE(source.value);
            const auto outcome = syntax::parse_rules(*source.value);
            const std::vector<text::Source> sources{*source.value};
            if (!outcome.diagnostics.empty())
                FAIL(symbol << " seed " << seed << ": "
                            << text::render(outcome.diagnostics.front(), sources));
        }
    }
}

TEST_CASE("Broken rules never do harm", "[grammar]") {
    const Ebnf grammar(grammar_text());
    unsigned said = 0;
    for (unsigned seed = 1; seed <= 2000; ++seed) {
        std::mt19937 random(seed);
        const auto text = broken(grammar.sentence("Rules", random), random);
        const auto source = text::read_source("broken", text);
        if (!source.value) continue;
        const auto outcome = rules::read_rules(*source.value);
        said += outcome.diagnostics.empty() ? 0 : 1;
        for (const auto& one : outcome.diagnostics) {
            if (one.span.begin > one.span.end || one.span.end > text.size() || one.sentence.empty())
                FAIL("seed " << seed << ": " << one.code);
        }
        if (!outcome.value) CHECK(has_errors(outcome.diagnostics));
    }
    CHECK(said > 1000);
}
