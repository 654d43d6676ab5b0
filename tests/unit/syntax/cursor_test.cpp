// compiler/syntax/cursor.cpp, keywords.cpp, line_feed.cpp: words, quotes, numbers, nearest words, comments.
#include "syntax/cursor.h"

#include "syntax/keywords.h"
#include "syntax/line_feed.h"
#include "unit/syntax/reading.h"

using namespace relead;
using namespace relead::syntax;
using relead::syntax::testing::codes;

TEST_CASE("Words end at white space, quotes and stops", "[syntax]") {
    Cursor cursor("  use tritone,related-ii\xC2\xA0\"x\"", 3, 100);
    cursor.skip_blanks();
    CHECK(cursor.word(",").text == "use");
    cursor.skip_blanks();
    const auto word = cursor.word(",");
    CHECK(word.text == "tritone");
    CHECK(word.span == Span{3, 106, 113});
    CHECK(cursor.accept(","));
    CHECK(cursor.peek_word() == "related-ii");
    CHECK(cursor.word().text == "related-ii");
    CHECK(cursor.at_blank());
    cursor.skip_blanks();
    CHECK(cursor.at_quote());
    text::Sink sink;
    CHECK(cursor.quoted(sink).text == "x");
    CHECK(cursor.at_end());
    CHECK(cursor.here() == Span{3, 129, 129});
    CHECK(sink.take().empty());
}

TEST_CASE("Quoted texts and their escapes", "[syntax]") {
    const auto read = [](std::string_view text, std::string& said) {
        text::Sink sink;
        Cursor cursor(text, 0, 0);
        auto words = cursor.quoted(sink);
        said = codes(sink.take());
        return words.text;
    };
    std::string said;
    CHECK(read(R"("a \"b\" \\ c")", said) == R"(a "b" \ c)");
    CHECK(said == "");
    CHECK(read("\"open", said) == "open");
    CHECK(said == "quote-unclosed");
    CHECK(read("“soft”", said) == "soft");
    CHECK(said == "quote-curly");
    CHECK(read(R"("\x")", said) == R"(\x)");
    CHECK(said == "escape-unknown");
    for (const std::string text : {"", "a\"b", "\\", "\\\"", "עברית", "e\xCC\x81"})
        CHECK(read(quote(text) + " x", said) == text);
}

TEST_CASE("Numbers and fractions", "[syntax]") {
    CHECK(parse_number("148") == 148);
    CHECK_FALSE(parse_number(""));
    CHECK_FALSE(parse_number("-1"));
    CHECK_FALSE(parse_number("1234567890"));
    CHECK_FALSE(parse_number("3x"));
    CHECK(parse_fraction("3") == Fraction(3));
    CHECK(parse_fraction("3/2") == Fraction(3, 2));
    CHECK(parse_fraction("1.50") == Fraction(3, 2));
    CHECK(parse_fraction("0.05") == Fraction(1, 20));
    CHECK_FALSE(parse_fraction("1/0"));
    CHECK_FALSE(parse_fraction("1/2/3"));
    CHECK_FALSE(parse_fraction(".5"));
}

TEST_CASE("White space of all kinds is trimmed", "[syntax]") {
    CHECK(trimmed(" \t\xC2\xA0x y\xE2\x80\x89\xE3\x80\x80 ") == "x y");
    CHECK(trimmed("\xEF\xBB\xBF") == "");
    CHECK(trimmed("é") == "é");
    CHECK(blank_length("\xE2\x80", 0) == 0);  // cut in the middle
    CHECK(character_length("\xF0\x9D", 0) == 2);
}

TEST_CASE("The nearest keyword", "[syntax]") {
    constexpr std::string_view words[] = {"changes", "melody", "marks", "hits"};
    CHECK(nearest_word("chnages", words) == "changes");  // swapped letters count once
    CHECK(nearest_word("MELODIE", words) == "melody");
    CHECK(nearest_word("mark", words) == "marks");
    CHECK(nearest_word("hit", words) == "hits");
    CHECK(nearest_word("bagpipes", words) == "");
    CHECK(nearest_word("", words) == "");
    CHECK(nearest_word(std::string(1000, 'm'), words) == "");
    CHECK(same_word("Melody", "mELODY"));
    CHECK_FALSE(same_word("melody", "melodi"));
}

TEST_CASE("Comments are taken off outside quotes only", "[syntax]") {
    struct Row {
        const char* line;
        const char* body;
        const char* comment;  // null: none
    };
    const Row rows[] = {
        {"key F major -- the old key", "key F major", "the old key"},
        {"-- whole line", "", "whole line"},
        {"--", "", ""},
        {"by \"A -- B\"", "by \"A -- B\"", nullptr},
        {"by \"A \\\" -- B\" -- c", "by \"A \\\" -- B\"", "c"},
        {"changes C--x", "changes C--x", nullptr},
        {"changes C --x", "changes C --x", nullptr},
        {"  use tritone --", "use tritone", ""},
        {"key F\t--\tx", "key F", "x"},
        {"   ", "", nullptr},
    };
    for (const auto& row : rows) {
        INFO(row.line);
        text::Sink sink;
        LineFeed feed(text::Source("t", row.line), sink);
        const auto line = feed.next();
        REQUIRE(line);
        CHECK(line->body == row.body);
        REQUIRE(line->comment.has_value() == (row.comment != nullptr));
        if (row.comment != nullptr) CHECK(line->comment->text == row.comment);
        CHECK_FALSE(feed.next());
        CHECK(sink.take().empty());
    }
}
