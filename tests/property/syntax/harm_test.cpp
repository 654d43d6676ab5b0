// compiler/syntax: no bytes do harm, and long texts take time in step with their length.
#include <chrono>

#include "support/catch.h"
#include "support/random_tune.h"
#include "syntax/dump.h"
#include "syntax/parse_tune.h"
#include "syntax/tidy.h"

using namespace relead;

namespace {

/// Reads, tidies and dumps whatever it is; seconds taken.
double read_all(const std::string& bytes) {
    const auto start = std::chrono::steady_clock::now();
    const auto source = text::read_source("bytes", bytes);
    if (source.value) {
        const auto outcome = syntax::parse_tune(*source.value);
        REQUIRE(outcome.value);
        (void)syntax::tidy(*outcome.value);
        (void)syntax::dump(*outcome.value, true);
        (void)syntax::dump_tokens(*source.value);
    }
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
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
    for (const std::string piece : {"C7 | "}) {
        std::string text = "tune \"T\"\nsection A\nchanges | ";
        while (text.size() < size) text += piece;
        INFO(piece);
        CHECK(read_all(text + "\n") < 60.0);  // a quadratic reader would need days
    }
}

TEST_CASE("Long lines are read in step with their length", "[property]") {
    constexpr std::size_t size = std::size_t{60} << 10;
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
        for (const auto& piece : pieces) {
            std::string text = "tune \"T\"\nsection A\n" + row;
            while (text.size() < size) text += piece;
            INFO(row << piece);
            CHECK(read_all(text + "\n") < 15.0);  // a quadratic reader would need minutes
        }
}

TEST_CASE("Many short lines are read in step with their number", "[property]") {
    for (const std::string line : {"changes | C |\n", "section A\n", "-- c\n", "plan \"p\"\n", "x\n", "\n",
                                   "key C major\n", "melody | C5 |\n", "use x\n", "outside 2\n"}) {
        std::string text = "tune \"T\"\nsection A\nchanges | C |\n";
        while (text.size() < (std::size_t{80} << 10)) text += line;
        INFO(line);
        CHECK(read_all(text) < 15.0);
    }
}
