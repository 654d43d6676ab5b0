// compiler/syntax: no bytes do harm, and what is made of long texts grows in step with their length.
#include <algorithm>

#include "support/catch.h"
#include "support/random_tune.h"
#include "syntax/dump.h"
#include "syntax/parse_tune.h"
#include "syntax/tidy.h"

using namespace relead;

namespace {

/// What was made of some bytes.
struct Made {
    std::size_t diagnostics = 0;
    std::size_t bytes = 0;  ///< of tidied text and both dumps
};

/// Reads, tidies and dumps whatever it is.
Made read_all(const std::string& bytes) {
    const auto source = text::read_source("bytes", bytes);
    Made made{source.diagnostics.size(), 0};
    if (source.value) {
        const auto outcome = syntax::parse_tune(*source.value);
        REQUIRE(outcome.value);
        made.diagnostics += outcome.diagnostics.size();
        made.bytes += syntax::tidy(*outcome.value).size() + syntax::dump(*outcome.value, true).size() +
                      syntax::dump_tokens(*source.value).size();
    }
    return made;
}

/// `piece` over and over after `start`, and twice as often: twice as much comes of it at most, but for what
/// the start itself gives and numbers with more digits.
void check_in_step(const std::string& start, const std::string& piece, std::size_t size) {
    const auto made_of = [&](std::size_t length) {
        std::string text = start;
        while (text.size() < length) text += piece;
        return read_all(text + "\n");
    };
    const auto once = made_of(size);
    const auto twice = made_of(2 * size);
    INFO(start << piece << ": " << once.bytes << " then " << twice.bytes << " bytes, " << once.diagnostics
               << " then " << twice.diagnostics << " diagnostics");
    CHECK(twice.bytes <= 2 * once.bytes + twice.bytes / 10 + 2000);
    CHECK(twice.diagnostics <= 2 * once.diagnostics + 10);
}

}  // namespace

TEST_CASE("Random bytes and random words do no harm", "[property]") {
    static constexpr std::string_view words[] = {
        "tune", "section", "A",  "changes", "melody", "lyrics",      "hits", "plan", "use", "running",
        "form", "key",     "\n", "\n",      "|",      "|",           "|:",   ":|",   "[1",  "]",
        "[3:2", "(",       ")",  "{",       "}",      "\"",          "q",    "C5",   "C7",  "~",
        "--",   "%",       "/",  "*",       "!",      "<",           ",",    "A:1",  "\\",  "♭",
        "\r",   "\t",      ".",  "_",       "-",      "\xE2\x80\x9C"};
    for (unsigned seed = 1; seed <= 400; ++seed) {
        std::mt19937 random(seed);
        std::string bytes, text;
        for (int i = 0; i < 200; ++i) bytes += static_cast<char>(random() % 256);
        for (int i = 0; i < 120; ++i) {
            text += words[random() % std::size(words)];
            if (random() % 3 != 0) text += ' ';
        }
        read_all(bytes);
        read_all(text);
        read_all("tune \"T\"\nsection A\nchanges " + text);
    }
}

TEST_CASE("A tune cut off anywhere does no harm", "[property]") {
    for (unsigned seed = 1; seed <= 4; ++seed) {
        std::mt19937 random(seed);
        const auto text = syntax::tidy(testing::random_tune(random));
        for (std::size_t size = 0; size < text.size(); size += 1 + random() % 20)
            read_all(text.substr(0, size));
    }
}

TEST_CASE("A line of ten megabytes is read", "[property]") {
    constexpr std::size_t size = std::size_t{10} << 20;
    std::string text = "tune \"T\"\nsection A\nchanges | ";
    while (text.size() < size) text += "C7 | ";
    const text::Source source("bytes", text + "\n");
    const auto outcome = syntax::parse_tune(source);
    REQUIRE(outcome.value);
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().code == "too-many-bars");
    const auto tidied = syntax::tidy(*outcome.value);
    CHECK(std::count(tidied.begin(), tidied.end(), '7') == Limits{}.bars);
}

TEST_CASE("What is made of long lines is in step with their length", "[property]") {
    const std::string pieces[] = {"C7 | ", "C7(b9 ", "[1 ",     "] ",       "| ", ":| ", "(",
                                  "\" ",   "{C5 ",   "q C5 | ", "[3:2 C5 ", "x",  "q ",  "~ ",
                                  "_ ",    "a, ",    "A ",      "\\",       "<",  "♭",   "-- "};
    const std::string rows[] = {"changes | ",
                                "changes | C |\nmelody | ",
                                "changes | C |\nlyrics | ",
                                "changes | C |\nmarks | ",
                                "form ",
                                "-- ",
                                "running ",
                                "plan \"p\"\nhold "};
    for (const auto& row : rows)
        for (const auto& piece : pieces)
            check_in_step("tune \"T\"\nsection A\n" + row, piece, std::size_t{30} << 10);
}

TEST_CASE("What is made of many short lines is in step with their number", "[property]") {
    for (const std::string line : {"changes | C |\n", "section A\n", "-- c\n", "plan \"p\"\n", "x\n", "\n",
                                   "key C major\n", "melody | C5 |\n", "use x\n", "outside 2\n"})
        check_in_step("tune \"T\"\nsection A\nchanges | C |\n", line, std::size_t{40} << 10);
}
