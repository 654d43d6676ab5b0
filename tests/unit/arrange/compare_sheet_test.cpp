// Rows over the same bars on paper: the compare sheet, the change slip, texts below systems and their pages.
#include "arrange/compare_sheet.h"

#include "arrange/row_label.h"
#include "arrange/slip.h"
#include "arrange/system_pages.h"
#include "score/dump.h"
#include "tunes.h"

namespace {

using namespace relead;

theory::Chord chord(const char* symbol) {
    const auto reading = theory::parse_chord(symbol);
    REQUIRE(reading.chord);
    return *reading.chord;
}

/// The dump of one part from its "part" line to the next.
std::string part_text(const score::Score& sheet, std::size_t index) {
    const auto text = score::dump(sheet);
    std::size_t from = 0;
    for (std::size_t i = 0; i <= index; ++i) from = text.find("part ", from + (i > 0 ? 1 : 0));
    REQUIRE(from != std::string::npos);
    return text.substr(from, text.find("part ", from + 1) - from);
}

const score::Direction* text_below(const score::Measure& measure) {
    for (const auto& direction : measure.directions) {
        if (!direction.above && direction.style.small && !direction.style.italic) return &direction;
    }
    return nullptr;
}

/// Two rows over `tune`: as written, and with `symbol` in the first chord of bar `bar`.
std::vector<arrange::SheetRow> two_rows(const tune::Tune& tune, int bar, const char* symbol) {
    arrange::SheetRow now{"mild", tune, {{{0, bar, 0}, {}}}, {{{0, bar, 0}, 1}}, false};
    now.tune.sections[0].bars[static_cast<std::size_t>(bar)].changes[0].chord = chord(symbol);
    return {{"Written", tune, {}, {}, false}, now};
}

const char* const four_bars =
    "section A\nchanges | Dm7 | G7 | Cmaj7 | A7 |\nmelody | w A4 | B4 | G4 | C#5 |\n";

tune::Tune long_tune(int lines) {
    std::string changes = "changes";
    for (int i = 0; i < lines; ++i) changes += " | Dm7 | G7 | Cmaj7 | A7";
    return short_tune("section A\n" + changes + " |\n");
}

}  // namespace

TEST_CASE("the sheet: melody without symbols, then a row for each version, changes marked and numbered") {
    const auto tune = short_tune(four_bars);
    arrange::CompareSheetWish wish;
    wish.reasons = {"why"};
    wish.end_notes = {"end"};
    const auto sheet = arrange::compare_sheet(tune, two_rows(tune, 1, "Db7"), wish);
    REQUIRE(sheet.parts.size() == 3);
    CHECK(sheet.parts[0].name == "Melody");
    CHECK(sheet.parts[1].name == "Written");
    CHECK(sheet.parts[2].name == "mild");
    REQUIRE(sheet.groups.size() == 1);
    CHECK(sheet.groups[0].last == 2);
    for (const auto& measure : sheet.parts[0].measures) CHECK(measure.harmonies.empty());
    for (std::size_t bar = 0; bar < 4; ++bar) {
        REQUIRE(sheet.parts[2].measures[bar].harmonies.size() == 1);
        CHECK(sheet.parts[2].measures[bar].harmonies[0].changed == (bar == 1));
        CHECK_FALSE(sheet.parts[1].measures[bar].harmonies[0].changed);
    }
    CHECK(theory::to_string(sheet.parts[2].measures[1].harmonies[0].chord) == "Db7");
    const auto& marks = sheet.parts[2].measures[1].directions;
    REQUIRE(marks.size() == 1);
    CHECK(marks[0].text == "(1)");
    CHECK(marks[0].above);
    const auto* below = text_below(sheet.parts[2].measures[0]);
    REQUIRE(below != nullptr);
    CHECK(below->text == "(1) why\nend");
    // Marks that stand once in a system stand in the first part alone.
    CHECK(part_text(sheet, 0).find("<mark") != std::string::npos);
    CHECK(part_text(sheet, 1).find("<mark") == std::string::npos);
}

TEST_CASE("a tune without melody: the written row carries the marks") {
    const auto tune = short_tune("section A\nchanges | Dm7 | G7 |\n");
    const auto sheet = arrange::compare_sheet(tune, two_rows(tune, 1, "Db7"), {});
    REQUIRE(sheet.parts.size() == 2);
    CHECK(part_text(sheet, 0).find("<mark@0 \"A\">") != std::string::npos);
}

TEST_CASE("guide tones: a small staff below every row, none below the melody") {
    const auto tune = short_tune(four_bars);
    arrange::CompareSheetWish wish;
    wish.guide_tones = true;
    wish.end_notes = {"end"};
    const auto sheet = arrange::compare_sheet(tune, two_rows(tune, 1, "Db7"), wish);
    CHECK(sheet.parts[0].staves == 1);
    CHECK(sheet.parts[1].staves == 2);
    CHECK(sheet.parts[2].second_staff_size < 100);
    // Db7 holds the tones of G7 as Cb and F; Open Music Theory v2, "Substitutions".
    CHECK(part_text(sheet, 1).find("w B3F4") != std::string::npos);
    CHECK(part_text(sheet, 2).find("w Cb4(b)F4") != std::string::npos);
    REQUIRE(text_below(sheet.parts[2].measures[0]) != nullptr);
    CHECK(text_below(sheet.parts[2].measures[0])->staff == 2);
}

TEST_CASE("all parts keep the same bars, lengths, signs and breaks") {
    const auto tune = short_tune(
        "form A A B\nsection A\n"
        "changes C7 | Dm7 G7 | Cmaj7 | [1 A7 | D7 ] [2 C6 | N.C. ] |\n"
        "melody q G4 | w A4 | h B4 C5 | w A4 | D5 | C5 | C5 |\n"
        "marks . | . | fermata | . | . | . | . |\n"
        "section B\nmeter 3/4\nchanges | F6 | Fm6 | C/E | Eb7*2 Db7 |\n");
    const auto sheet = arrange::compare_sheet(tune, two_rows(tune, 1, "Ab7"), {});
    REQUIRE(sheet.parts.size() == 3);
    for (const auto& part : sheet.parts) {
        REQUIRE(part.measures.size() == sheet.parts[0].measures.size());
        for (std::size_t i = 0; i < part.measures.size(); ++i) {
            const auto& first = sheet.parts[0].measures[i];
            const auto& here = part.measures[i];
            CAPTURE(part.name, i);
            CHECK(here.number == first.number);
            CHECK(here.implicit == first.implicit);
            CHECK(here.length == first.length);
            CHECK(here.repeat_begins == first.repeat_begins);
            CHECK(here.repeat_ends == first.repeat_ends);
            CHECK(here.ending.has_value() == first.ending.has_value());
            CHECK(here.before == first.before);
            CHECK(here.room_above == first.room_above);
        }
    }
    CHECK(sheet.parts[0].measures[0].implicit);
    for (const auto& part : sheet.parts) {
        CAPTURE(part.name);
        CHECK(part.measures[2].voices.at(0).elements.back().fermata);
        CHECK_FALSE(part.measures[1].voices.at(0).elements.back().fermata);
    }
    // N.C. stays a symbol of the row.
    CHECK(part_text(sheet, 1).find("N.C.@0") != std::string::npos);
}

TEST_CASE("a reason stands below the first system that shows its number, and once") {
    const auto tune = long_tune(3);
    auto rows = two_rows(tune, 5, "Db7");
    rows[1].notes = {{{0, 5, 0}, 1}, {{0, 9, 0}, 1}, {{0, 9, 0}, 2}};
    arrange::CompareSheetWish wish;
    wish.reasons = {"first", "second"};
    const auto sheet = arrange::compare_sheet(tune, rows, wish);
    const auto starts = arrange::system_starts(sheet.parts[0]);
    REQUIRE(starts == std::vector<std::size_t>{0, 4, 8});
    const auto& last = sheet.parts.back();
    CHECK(text_below(last.measures[0]) == nullptr);
    REQUIRE(text_below(last.measures[4]) != nullptr);
    CHECK(text_below(last.measures[4])->text == "(1) first");
    REQUIRE(text_below(last.measures[8]) != nullptr);
    CHECK(text_below(last.measures[8])->text == "(2) second");
    CHECK(last.measures[8].room_above > last.measures[4].room_above);
}

TEST_CASE("pages: systems and their texts fit, filled about alike") {
    const auto tune = long_tune(14);
    const auto rows = two_rows(tune, 5, "Db7");
    const auto plain = arrange::compare_sheet(tune, rows, {});
    // 14 systems of two staves: seven fit an A4 page in the sheet's size, six in staves of 7 mm.
    CHECK(plain.pages == 3);
    CHECK(plain.systems_a_page == 5);
    arrange::CompareSheetWish wish;
    wish.reasons = {std::string(3000, 'x')};
    for (std::size_t i = 0; i < wish.reasons[0].size(); i += 6) wish.reasons[0][i] = ' ';
    const auto full = arrange::compare_sheet(tune, rows, wish);
    CHECK(full.pages == 3);
    int turns = 0;
    for (const auto& measure : full.parts[0].measures) turns += measure.before == score::Break::page ? 1 : 0;
    CHECK(turns == 2);
}

TEST_CASE("a text that no page holds is cut, and says so") {
    const auto tune = long_tune(1);
    arrange::CompareSheetWish wish;
    for (int i = 0; i < 200; ++i) wish.end_notes.push_back("note " + std::to_string(i));
    const auto sheet = arrange::compare_sheet(tune, two_rows(tune, 1, "Db7"), wish);
    const auto* below = text_below(sheet.parts.back().measures[0]);
    REQUIRE(below != nullptr);
    CHECK(below->text.find("note 0\nnote 1\n") == 0);
    const auto end = below->text.substr(below->text.rfind('\n') + 1);
    CHECK(end.find(" more lines did not fit this page.)") != std::string::npos);
    CHECK(end != "(200 more lines did not fit this page.)");
}

TEST_CASE("texts break between words, by what is seen and not by bytes") {
    CHECK(arrange::text_lines({"one two three", "four"}, 8) ==
          std::vector<std::string>{"one two", "\u2003three", "four"});
    CHECK(arrange::text_lines({"\u00e9\u00e9\u00e9\u00e9 \u00e9\u00e9\u00e9"}, 8).size() == 1);
    CHECK(arrange::text_lines({"unbreakable"}, 4) == std::vector<std::string>{"unbreakable"});
    CHECK(arrange::text_lines({"", " "}, 4).empty());
}

TEST_CASE("short names keep whole words, the number of the version and whole characters") {
    CHECK(arrange::short_name("mild", 8) == "mild");
    CHECK(arrange::short_name("over the rail", 8) == "over the");
    CHECK(arrange::short_name("over the rail", 7) == "over");
    CHECK(arrange::short_name("over the rail 2", 12) == "over the 2");
    CHECK(arrange::short_name("over the rail 12", 8) == "over 12");
    CHECK(arrange::short_name("superimposed", 8) == "superim.");
    CHECK(arrange::short_name("superimposed 2", 8) == "super. 2");
    CHECK(arrange::short_name("\u00e9\u00e9\u00e9\u00e9\u00e9", 3) == "\u00e9\u00e9.");
    CHECK(arrange::short_name("e\u0301e\u0301e\u0301e\u0301", 4) == "e\u0301e\u0301e\u0301e\u0301");
}

TEST_CASE("labels of rows: for whom, short enough for the margin, no two versions alike") {
    const auto label = [](std::vector<std::pair<const char*, bool>> names) {
        std::vector<arrange::SheetRow> rows;
        for (const auto& [name, soloist] : names) rows.push_back({name, {}, {}, {}, soloist});
        std::vector<std::string> text;
        for (const auto& one : arrange::row_labels(rows)) text.push_back(one.name + " | " + one.abbreviation);
        return text;
    };
    CHECK(label({{"Written", false}, {"mild 2", false}}) ==
          std::vector<std::string>{"Written | Written", "mild 2 | mild 2"});
    CHECK(label({{"mud", true}}) == std::vector<std::string>{"mud (solo) | mud (solo)"});
    CHECK(label({{"over the rail", true}, {"over the rail 2", true}}) ==
          std::vector<std::string>{"over the (solo) | over (solo)", "over 2 (solo) | over 2 (solo)"});
    // Longer than wished where they would be alike.
    CHECK(label({{"over the rail", false}, {"over the tide", false}}) ==
          std::vector<std::string>{"over the rail | over the rail", "over the tide | over the tide"});
    // Twice the same name tells nothing apart at any length.
    CHECK(label({{"mild", false}, {"mild", false}}) ==
          std::vector<std::string>{"mild | mild", "mild | mild"});
}

namespace {

arrange::SlipBar slip_bar(const tune::Tune& tune, std::size_t bar, const char* now, bool follows = false) {
    arrange::SlipBar slip;
    slip.written = slip.bar = tune.sections[0].bars[bar];
    slip.bar.changes.back().chord = chord(now);
    slip.changed.assign(slip.bar.changes.size(), false);
    slip.changed.back() = true;
    slip.label = "A:" + std::to_string(bar + 1);
    slip.number = std::to_string(bar + 1);
    slip.key = tune.key;
    slip.follows = follows;
    return slip;
}

}  // namespace

TEST_CASE("a slip: the written row over the new one, in the reader's key, addresses over the upper row") {
    const auto tune =
        short_tune("section A\nchanges | Dm7 | G7 | Em7 A7 | D7 |\nmelody | w A4 | r | r | r |\n");
    arrange::SlipWish wish;
    wish.instrument = theory::find_instrument("alto");
    wish.version = "mild 2";
    wish.idea = "A sentence.";
    wish.stamp = "mild \u00b7 12345678";
    const auto sheet =
        arrange::change_slip(tune, {slip_bar(tune, 1, "Db7"), slip_bar(tune, 2, "Eb7", true)}, wish);
    CHECK(sheet.corner == "Alto Sax");
    CHECK(sheet.stamp == wish.stamp);
    CHECK(sheet.running_order.find("Only the bars that differ: mild 2") == 0);
    CHECK(sheet.pages == 1);
    REQUIRE(sheet.parts.size() == 2);
    CHECK(sheet.parts[0].name == "Written");
    CHECK(sheet.parts[1].name == "mild 2");
    // An alto reads a major sixth higher: G7 is E7, Em7 A7 are C#m7 F#7; common practice, no source.
    const auto symbols = [&](std::size_t part) {
        std::string text;
        for (const auto& measure : sheet.parts[part].measures) {
            text += measure.number + ":";
            for (const auto& harmony : measure.harmonies)
                text += " " + theory::to_string(harmony.chord) + (harmony.changed ? "*" : "");
            text += "\n";
        }
        return text;
    };
    CHECK(symbols(0) == "2: E7\n3: C#m7 F#7\n");
    CHECK(symbols(1) == "2: Bb7*\n3: C#m7 C7*\n");
    CHECK(part_text(sheet, 0).find("<mark@0 \"A:2\">") != std::string::npos);
    CHECK(part_text(sheet, 1).find("<mark") == std::string::npos);
    // Bars that follow each other have a plain bar line between them.
    CHECK(sheet.parts[0].measures[0].right == score::BarStyle::regular);
    REQUIRE(text_below(sheet.parts[1].measures[0]) != nullptr);
    CHECK(text_below(sheet.parts[1].measures[0])->text == "A sentence.");
}

TEST_CASE("a slip is as large as half a page allows") {
    const auto tune = long_tune(5);
    arrange::SlipWish wish;
    wish.version = "mild";
    double before = 7;
    for (const std::size_t count : {4U, 8U, 12U, 16U}) {
        std::vector<arrange::SlipBar> bars;
        for (std::size_t i = 0; i < count; ++i) bars.push_back(slip_bar(tune, i, "Ab7"));
        const auto sheet = arrange::change_slip(tune, bars, wish);
        CAPTURE(count);
        std::vector<std::vector<std::string>> texts;
        CHECK(arrange::height_of(sheet, texts) <= 148.5);
        CHECK(sheet.staff_height <= before);
        before = sheet.staff_height;
    }
    CHECK(before < 7);
}

TEST_CASE("a slip without bars has a heading alone") {
    arrange::SlipWish wish;
    wish.version = "mild";
    const auto sheet = arrange::change_slip(short_tune(four_bars), {}, wish);
    CHECK(sheet.parts.empty());
    CHECK(sheet.title == "Test");
}
