// compiler/formats/text/comparison*: rows for a terminal of any width, with and without colours.
#include <algorithm>
#include <sstream>

#include "formats/text/comparison.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "text/source.h"

using namespace relead;

namespace {

/// By hand, so that the rows do not move with the rules: every other bar of each further row differs.
report::Comparison rows_of(const tune::Tune& tune, std::size_t versions, const std::string& name,
                           const std::string& symbol) {
    std::vector<tune::Tune> others(versions, tune);
    std::vector<report::OtherRow> rows;
    const auto chord = theory::parse_chord(symbol).chord;
    REQUIRE(chord);
    for (std::size_t i = 0; i < versions; ++i) {
        for (auto& section : others[i].sections) {
            for (std::size_t bar = i % 2; bar < section.bars.size(); bar += 2)
                section.bars[bar].changes.back().chord = *chord;
        }
        rows.push_back({i == 0 ? name : name + " " + std::to_string(i + 1), &others[i], nullptr, nullptr});
    }
    return report::compare(tune, rows);
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

std::string without_colours(std::string text) {
    for (auto at = text.find('\033'); at != std::string::npos; at = text.find('\033'))
        text.erase(at, text.find('m', at) + 1 - at);
    return text;
}

/// Columns at which the bar lines of a row stand.
std::vector<int> bar_lines(const std::string& line) {
    std::vector<int> columns;
    for (std::size_t at = line.find('|'); at != std::string::npos; at = line.find('|', at + 1))
        columns.push_back(text::display_width(line.substr(0, at)));
    return columns;
}

tune::Tune eight_bars() {
    return testing::small_tune(
        "F major",
        "Fmaj7 | Gm7 C7 | Am7b5 D7(b9,b13) | Gm7*3 C7sus4(b9) | F7 | Bbmaj7 Bbm6 | Am7 D7 | Gm7 C7");
}

}  // namespace

TEST_CASE("bars stand under each other, lines break between bars and fit the width") {
    const auto comparison = rows_of(eight_bars(), 5, "mild", "Db13(#11)");
    const int width = GENERATE(40, 60, 80, 120, 200);
    CAPTURE(width);
    const auto lines = lines_of(formats::text::print_rows(comparison, {false, width}));
    std::vector<int> above;
    std::size_t written_bars = 0;
    for (const auto& line : lines) {
        const auto columns = bar_lines(line);
        if (columns.empty()) continue;
        CAPTURE(line);
        CHECK((text::display_width(line) <= width || columns.size() == 2));  // one bar may be wider
        if (line.rfind("A:", 0) == 0) {
            above = columns;
            written_bars += columns.size() - 1;
            CHECK(columns.size() <= 5);
        }
        CHECK(columns == above);
    }
    CHECK(written_bars == 8);
}

TEST_CASE("wider terminals take no more lines") {
    const auto comparison = rows_of(eight_bars(), 2, "mild", "Db9");
    std::size_t before = 1000;
    for (const int width : {40, 60, 80, 120}) {
        const auto count = lines_of(formats::text::print_rows(comparison, {false, width})).size();
        CHECK(count <= before);
        before = count;
    }
    CHECK(before == 7);  // heading, two lines of bars with three rows each
}

TEST_CASE("wide and combining letters in names keep the bar lines in place") {
    // East Asian letters take two columns, combining marks none: Unicode Standard Annex #11 and UTR #51.
    const std::string name = GENERATE("\u6d77\u306e\u5149", "e\u0301te\u0301", "\U0001F3B7 late", "plain");
    const auto comparison = rows_of(eight_bars(), 2, name, "Db9");
    std::vector<int> above;
    for (const auto& line : lines_of(formats::text::print_rows(comparison, {false, 80}))) {
        const auto columns = bar_lines(line);
        if (columns.empty()) continue;
        CAPTURE(line);
        if (line.rfind("A:", 0) == 0) above = columns;
        CHECK(columns == above);
    }
    CHECK_FALSE(above.empty());
}

TEST_CASE("a long name is cut to whole letters") {
    const auto comparison =
        rows_of(eight_bars(), 1, std::string(12, 'x') + "\u6d77\u6d77\u6d77\u6d77\u6d77\u6d77", "Db9");
    const auto text = formats::text::print_rows(comparison, {false, 80});
    CHECK(text.find("xxxxxxxxxxxx\u6d77\u6d77\u6d77\u2026") != std::string::npos);
    CHECK(text.find("\u6d77\u6d77\u6d77\u6d77") == std::string::npos);
}

TEST_CASE("a change has a sign without colours, and colours change nothing but colour") {
    const auto comparison = rows_of(eight_bars(), 3, "mild", "Db9");
    const auto plain = formats::text::print_comparison(comparison, {false, 80});
    const auto coloured = formats::text::print_comparison(comparison, {true, 80});
    CHECK(plain.find('\033') == std::string::npos);
    CHECK(plain.find("*Db9") != std::string::npos);
    CHECK(coloured.find("\033[1;31m*Db9\033[0m") != std::string::npos);
    CHECK(without_colours(coloured) == plain);
    // No colour runs over a line end: a pager would carry it on.
    for (const auto& line : lines_of(coloured)) {
        const auto on = line.rfind("\033[1");
        if (on != std::string::npos) CHECK(line.find("\033[0m", on) != std::string::npos);
    }
}

TEST_CASE("a row is left out of a line in which it changes nothing") {
    const auto tune = testing::small_tune("F major", "Fmaj7 | Gm7 | Am7 | D7 | Gm7 | C7 | F6 | F6");
    auto other = tune;
    other.sections[0].bars[6].changes[0].chord = *theory::parse_chord("Db9").chord;
    const auto comparison = report::compare(tune, {{"late", &other, nullptr, nullptr}});
    const auto lines = lines_of(formats::text::print_rows(comparison, {false, 80}));
    CHECK(std::count_if(lines.begin(), lines.end(),
                        [](const auto& line) { return line.find("late") != std::string::npos; }) == 1);
}

TEST_CASE("cells: strokes or beats where chords do not split the bar evenly") {
    const auto cell = [](const std::string& changes) {
        const auto comparison = report::compare(testing::small_tune("F major", changes), {});
        return formats::text::cell_text(comparison.bars.at(0), 0);
    };
    CHECK(cell("Gm7 C7 | F6") == "Gm7 C7");
    CHECK(cell("Gm7*3 C7 | F6") == "Gm7 / / C7");
    CHECK(cell("Gm7*3/2 C7*5/2 | F6") == "Gm7*3/2 C7*5/2");
    CHECK(cell("N.C. | F6") == "N.C.");
}
