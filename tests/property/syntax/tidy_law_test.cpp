// compiler/syntax/tidy.cpp: reading a tidied tree gives the tree, and tidying that gives the same text.
#include "support/catch.h"
#include "support/random_tune.h"
#include "syntax/dump.h"
#include "syntax/parse_tune.h"
#include "syntax/tidy.h"
#include "text/render.h"

using namespace relead;

TEST_CASE("parse(tidy(tree)) is the tree, and tidy is idempotent", "[property]") {
    for (unsigned seed = 1; seed <= 500; ++seed) {
        std::mt19937 random(seed);
        const auto tree = testing::random_tune(random);
        const auto text = syntax::tidy(tree);
        const text::Source source("tidied", text);
        const auto again = syntax::parse_tune(source);
        const std::vector<text::Source> sources{source};
        const auto said = text::render_all(again.diagnostics, sources);
        const auto before = syntax::dump(tree), after = syntax::dump(*again.value);
        const bool holds = said.empty() && before == after && syntax::tidy(*again.value) == text;
        if (!holds) FAIL("seed " << seed << "\n" << text << "\n" << said << "\n" << before << "\n" << after);
    }
}

TEST_CASE("Line ends and white space do not change what a tune says", "[property]") {
    for (unsigned seed = 1; seed <= 200; ++seed) {
        std::mt19937 random(seed);
        const auto text = syntax::tidy(testing::random_tune(random));
        const auto expected = syntax::dump(*syntax::parse_tune(text::Source("a", text)).value);
        std::string crlf = "\xEF\xBB\xBF";
        for (const char c : text) crlf += c == '\n' ? std::string("  \r\n") : std::string(1, c);
        if (syntax::dump(*syntax::parse_tune(text::Source("b", crlf)).value) != expected)
            FAIL("seed " << seed);
    }
}
