// compiler/text/render.cpp and render_line.cpp
#include "text/render.h"

#include "support/catch.h"
#include "text/render_line.h"

using namespace relead;
using namespace relead::text;

namespace {

/// Renders one error over the first place where `marked` stands in `text`.
std::string shown(const std::string& text, const std::string& marked, RenderStyle style = {}) {
    const std::vector<Source> sources = {Source("ferry.tune", text)};
    const auto at = text.find(marked);
    REQUIRE(at != std::string::npos);
    const Span span{0, static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(at + marked.size())};
    return render({"bar-overfull", Severity::error, span, {}, "Too much.", {}}, sources, style);
}

}  // namespace

TEST_CASE("a diagnostic shows file, place, sentence, code, line, carets and fixes") {
    const std::vector<Source> sources = {
        Source("tunes/ferry.tune", "section A\nchanges | Fmaj7 | D7 G7 C7 F7 Bb7 | Gm7 |\n")};
    const Diagnostic said{
        "bar-overfull",
        Severity::error,
        {0, 28, 43},
        {"A", 2, 0, 0, 0},
        "A:2 holds 5 beats, the meter asks for 4.",
        {{{0, 40, 43}, "", "Remove Bb7."}, {{0, 28, 30}, "D7*2", "Let the first chord last longer:"}}};
    CHECK("\n" + render(said, sources) == R"(
tunes/ferry.tune:2:19: error: A:2: A:2 holds 5 beats, the meter asks for 4. [bar-overfull]
   2 | changes | Fmaj7 | D7 G7 C7 F7 Bb7 | Gm7 |
     |                   ^^^^^^^^^^^^^^^
       fix: Remove Bb7.
       fix: Let the first chord last longer: (D7*2)
)");
}

TEST_CASE("carets stand under wide and combining characters") {
    CHECK("\n" + shown("tune \"港の光\" x", "x") == R"(
ferry.tune:1:12: error: Too much. [bar-overfull]
   1 | tune "港の光" x
     |               ^
)");
    CHECK("\n" + shown("tune \"港の光\" x", "の光") == R"(
ferry.tune:1:8: error: Too much. [bar-overfull]
   1 | tune "港の光" x
     |         ^^^^
)");
    CHECK("\n" + shown("by \"Re\u0301ne\u0301e\" Bb", "Bb") ==
          "\n"
          "ferry.tune:1:12: error: Too much. [bar-overfull]\n"
          "   1 | by \"Re\u0301ne\u0301e\" Bb\n"
          "     |            ^^\n");
    CHECK("\n" + shown("| B♭△7 | F♯ø7 |", "F♯ø7") == R"(
ferry.tune:1:10: error: Too much. [bar-overfull]
   1 | | B♭△7 | F♯ø7 |
     |          ^^^^
)");
}

TEST_CASE("a span inside a cluster marks the whole cluster") {
    CHECK("\n" + shown("ae\u0301b", "\u0301") ==
          "\n"
          "ferry.tune:1:2: error: Too much. [bar-overfull]\n"
          "   1 | ae\u0301b\n"
          "     |  ^\n");
}

TEST_CASE("a fix is shown without the white space around it, and once") {
    const auto fix = [](std::string text, std::string label) {
        const auto shown =
            render({"c", Severity::error, {}, {}, "S.", {{{}, std::move(text), std::move(label)}}}, {});
        return shown.substr(shown.find('\n') + 1);
    };
    CHECK(fix("\ntempo 120", "Add the line tempo 120") == "       fix: Add the line tempo 120\n");
    CHECK(fix("D7*2", "Let it last longer") == "       fix: Let it last longer (D7*2)\n");
    CHECK(fix(" h r", "Fill the bar with rests") == "       fix: Fill the bar with rests (h r)\n");
    CHECK(fix("", "Take it out") == "       fix: Take it out\n");
    CHECK(fix("Bb7", "") == "       fix: put Bb7 here\n");
}

TEST_CASE("tabs are shown as blanks up to the next stop") {
    CHECK("\n" + shown("\tab\tDm7 |", "Dm7") == R"(
ferry.tune:1:5: error: Too much. [bar-overfull]
   1 |     ab  Dm7 |
     |         ^^^
)");
}

TEST_CASE("a title that runs from right to left is named, whatever the terminal does with it") {
    CHECK("\n" + shown("tune \"שיר\" key Q", "Q") == R"(
ferry.tune:1:16: error: Too much. [bar-overfull]
   1 | tune "שיר" key Q
     |                ^
     | (part of the line runs from right to left; marked: Q)
)");
}

TEST_CASE("nothing in a text reaches the terminal as a command") {
    CHECK("\n" + shown("a\x1b[2Jb\xE2\x80\xAE"
                       "c\x01 Q",
                       "Q") ==
          "\n"
          "ferry.tune:1:11: error: Too much. [bar-overfull]\n"
          "   1 | a\u241b[2Jb<U+202E>c\u2401 Q\n"
          "     |                  ^\n");
    CHECK(printable("x\x7f\xC2\x9B\xFF") == "x\u2421\uFFFD?");
}

TEST_CASE("spans at the edges") {
    const std::vector<Source> sources = {Source("x", "ab\ncd\n")};
    const auto at = [&](std::uint32_t begin, std::uint32_t end) {
        return "\n" + render({"c", Severity::warning, {0, begin, end}, {}, "S.", {}}, sources);
    };
    CHECK(at(2, 2) == "\nx:1:3: warning: S. [c]\n   1 | ab\n     |   ^\n");    // at the line end
    CHECK(at(1, 5) == "\nx:1:2: warning: S. [c]\n   1 | ab\n     |  ^\n");     // over two lines
    CHECK(at(6, 6) == "\nx:2:3: warning: S. [c]\n   2 | cd\n     |   ^\n");    // the end of the text
    CHECK(at(99, 99) == "\nx:2:3: warning: S. [c]\n   2 | cd\n     |   ^\n");  // past it
    const std::vector<Source> empty = {Source("x", "")};
    CHECK(render({"c", Severity::remark, {0, 0, 0}, {}, "S.", {}}, empty) ==
          "x:1:1: remark: S. [c]\n   1 | \n     | ^\n");
    CHECK(render({"c", Severity::error, {5, 0, 0}, {}, "S.", {}}, empty) == "error: S. [c]\n");
}

TEST_CASE("a line that is too long is cut around the span") {
    const std::string before(500, '.'), after(500, ':');
    CHECK("\n" + shown(before + "Dm7" + after, "Dm7", {false, 40}) == R"(
ferry.tune:1:501: error: Too much. [bar-overfull]
   1 | …............Dm7:::::::::::::::::::::::…
     |              ^^^
)");
    CHECK("\n" + shown("Dm7" + after, "Dm7", {false, 30}) == R"(
ferry.tune:1:1: error: Too much. [bar-overfull]
   1 | Dm7:::::::::::::::::::::::::…
     | ^^^
)");
    CHECK("\n" + shown(before + "Dm7", "Dm7", {false, 30}) == R"(
ferry.tune:1:501: error: Too much. [bar-overfull]
   1 | ….........................Dm7
     |                           ^^^
)");
    CHECK("\n" + shown(before, before.substr(0, 499), {false, 24}) == R"(
ferry.tune:1:1: error: Too much. [bar-overfull]
   1 | ......................…
     | ^^^^^^^^^^^^^^^^^^^^^^
)");
}

TEST_CASE("wide characters are never cut in half") {
    std::string line;
    for (int i = 0; i < 60; ++i) line += "光";
    for (int width = 20; width < 40; ++width) {
        const auto cut = show_line(line, 90, 93, width);
        CHECK(display_width(cut.text) <= width);
        CHECK(cut.carets == 2);
        CHECK(cut.before % 2 == 1);  // behind one ellipsis
    }
}

TEST_CASE("a hundred diagnostics in one 10 MB line are shown cut short") {
    std::string line;
    while (line.size() < 10'000'000) line += "| Dm7 G\u266d7 ";
    std::string marks = "x";
    while (marks.size() < 1'000'000) marks += "\u0301";
    const std::vector<Source> sources = {Source("x", line), Source("m", marks, 1)};
    for (std::uint32_t i = 0; i < 100; ++i) {
        const auto text =
            render({"c", Severity::error, {0, i * 100'000, i * 100'000 + 3}, {}, "S.", {}}, sources);
        CHECK(text.size() < 400);
    }
    CHECK(render({"c", Severity::error, {1, 500'001, 500'003}, {}, "S.", {}}, sources).size() < 400);
    CHECK(render({"c", Severity::error, {0, 0, 10'000'000}, {}, "S.", {}}, sources).size() < 500);
}

TEST_CASE("colour paints the severity and the carets") {
    CHECK("\n" + shown("ab", "b", {true, 80}) ==
          "\n"
          "ferry.tune:1:2: \x1b[1;31merror\x1b[0m: Too much. [bar-overfull]\n"
          "   1 | ab\n"
          "     |  \x1b[1;31m^\x1b[0m\n");
}

TEST_CASE("several diagnostics follow each other") {
    const std::vector<Source> sources = {Source("x", "ab")};
    const Diagnostic said{"c", Severity::remark, {0, 0, 1}, {}, "S.", {}};
    CHECK(render_all({said, said}, sources) == render(said, sources) + render(said, sources));
}

TEST_CASE("places are written as musicians read them") {
    CHECK(to_string(Place{}).empty());
    CHECK(to_string(Place{"A", 7, 3, 0, 0}) == "A:7.3");
    CHECK(to_string(Place{"A", 7, 0, 0, 0}) == "A:7");
    CHECK(to_string(Place{"A", 7, Beats(7, 2), 0, 0}) == "A:7.3+1/2");
    CHECK(to_string(Place{"A", 0, 0, 0, 0}) == "A:pickup");
    CHECK(to_string(Place{"A", 0, 4, 0, 0}) == "A:pickup.4");
}
