// compiler/arrange/sheet_form.h: the signs of a sheet, unfolded, are what the tune plays.
#include <algorithm>

#include "arrange/sheet_form.h"
#include "score/play_order.h"
#include "tune/unfold.h"
#include "tunes.h"

namespace {

using namespace relead;
using arrange::FormBar;
using arrange::Jumps;

std::vector<FormBar> unfolded(const tune::Tune& tune, const arrange::SheetForm& form) {
    score::Part part;
    part.measures = arrange::sign_measures(tune, form);
    std::vector<FormBar> bars;
    for (const int i : score::play_order(part)) {
        const auto& bar = form.bars[static_cast<std::size_t>(i)];
        bars.push_back({bar.section, bar.bar});
    }
    return bars;
}

/// What the tune itself says: one chorus, then the last one where it differs.
std::vector<FormBar> expected(const tune::Tune& tune) {
    std::vector<FormBar> chorus, last;
    for (const auto& bar : tune::one_chorus(tune)) chorus.push_back({bar.section, bar.bar});
    if (tune.order.by_signs) return chorus;
    for (const auto& bar : tune::play_chorus(tune, {true, true}).bars) last.push_back({bar.section, bar.bar});
    if (chorus == last) return chorus;
    const auto pickup = [&](const FormBar& at) {
        return tune.sections[static_cast<std::size_t>(at.section)]
                   .bars[static_cast<std::size_t>(at.bar)]
                   .number == 0;
    };
    if (pickup(last.front())) last.erase(last.begin());
    chorus.insert(chorus.end(), last.begin(), last.end());
    return chorus;
}

/// Bars of the sheet in a line: names as "A3", with the signs around them.
std::string shown(const tune::Tune& tune, const arrange::SheetForm& form) {
    std::string text;
    for (const auto& bar : form.bars) {
        if (bar.opens_section) text += "(" + bar.mark + ") ";
        for (const auto& sign : bar.signs) {
            if (sign.kind == score::Direction::Kind::segno) text += "segno ";
            if (sign.kind == score::Direction::Kind::coda) text += "coda ";
        }
        if (bar.repeat_begins) text += "|: ";
        if (bar.ending) text += "[" + bar.ending->label + " ";
        const auto& section = tune.sections[static_cast<std::size_t>(bar.section)];
        text += section.name + std::to_string(section.bars[static_cast<std::size_t>(bar.bar)].number) + " ";
        for (const auto& sign : bar.signs) {
            if (sign.kind != score::Direction::Kind::segno && sign.kind != score::Direction::Kind::coda) {
                text += "<" + sign.text + "> ";
            }
        }
        if (bar.repeat_ends > 0)
            text += bar.repeat_ends == 2 ? ":| " : ":|" + std::to_string(bar.repeat_ends) + " ";
    }
    if (!text.empty()) text.pop_back();
    return text;
}

std::string shown(const std::string& text, Jumps jumps = Jumps::never) {
    const auto tune = short_tune(text);
    const auto form = arrange::work_out_form(tune, jumps);
    CHECK(unfolded(tune, form) == form.playing);
    return shown(tune, form);
}

const std::string a8 = "section A\nchanges | C | Dm7 | Em7 | F | G7 | Am7 | Dm7 | G7 |\n";
const std::string b8 = "section B\nchanges | F | Fm | C | A7 | D7 | D7 | G7 | G7 |\n";

}  // namespace

TEST_CASE("the signs on every sample's sheet play what the tune plays") {
    for (const auto& [name, tune] : sample_tunes()) {
        for (const auto jumps : {Jumps::never, Jumps::when_it_saves_a_page, Jumps::whenever_shorter}) {
            INFO(name);
            const auto form = arrange::work_out_form(tune, jumps);
            const auto played = unfolded(tune, form);
            CHECK(played == form.playing);
            // vamps and intros of the running order stand before, sections for later items after the form
            const auto core = expected(tune);
            const auto found = std::search(played.begin(), played.end(), core.begin(), core.end());
            CHECK(found != played.end());
            if (tune.order.running.empty() || tune.order.running.front().vamp.empty())
                CHECK(found == played.begin());
        }
    }
}

TEST_CASE("every bar that is played stands on the sheet, and a 32-bar AABA takes 26 bars") {
    const auto text =
        "form A A B A\nsection A\nchanges | C | Dm7 | Em7 | F | G7 | Am7 | [1 Dm7 | G7 ] [2,3 G7 | C ] |\n" +
        b8;
    CHECK(shown(text) ==
          "(A) |: A1 A2 A3 A4 A5 A6 [1. A7 A8 :| [2. A9 A10 (B) B1 B2 B3 B4 B5 B6 B7 B8 "
          "(A3) A1 A2 A3 A4 A5 A6 A9 A10");
}

TEST_CASE("equal neighbours are repeated, others are written out") {
    struct Row {
        const char* form;
        const char* sheet;
    };
    const Row rows[] = {
        {"X", "(X) X1 X2"},
        {"X X", "(X) |: X1 X2 :|"},
        {"X X X", "(X) |: X1 X2 :|3"},
        {"X X Y", "(X) |: X1 X2 :| (Y) Y1"},
        {"X Y X", "(X) X1 X2 (Y) Y1 (X2) X1 X2"},
        {"X Y X Y", "(X) |: X1 X2 (Y) Y1 :|"},
        {"X Y Y X X", "(X) X1 X2 (Y) |: Y1 :| (X2) |: X1 X2 :|"},
    };
    for (const auto& row : rows) {
        INFO(row.form);
        const auto text =
            std::string("form ") + row.form + "\nsection X\nchanges | C | G7 |\n" +
            (std::string(row.form).find('Y') == std::string::npos ? "" : "section Y\nchanges | F |\n");
        CHECK(shown(text) == row.sheet);
    }
}

TEST_CASE("endings") {
    const std::string x = "section X\nchanges | C | F | [1 G7 ] [2 C ] [3 Am7 ] |\n";
    CHECK(shown("form X X X\n" + x) == "(X) |: X1 X2 [1. X3 :|3 [2. X4 :|3 [3. X5");
    const std::string same = "section X\nchanges | C | F | [1,2 G7 ] [3 Am7 ] |\n";
    CHECK(shown("form X X X\n" + same) == "(X) |: X1 X2 [1. 2. X3 :|3 [3. X4");
    // An ending longer than four bars is written out as a section of its own would be.
    const std::string five = "section X\nchanges | C | [1 F | F | F | F | G7 ] [2 C | C | C | C | C ] |\n";
    CHECK(shown("form X X\n" + five).find('[') == std::string::npos);
}

TEST_CASE("the last chorus gets its ending on the same sheet") {
    CHECK(shown("form X\nrunning Head | Head last\nsection X\nchanges | C | F | [1 G7 ] [last C ] |\n") ==
          "(X) |: X1 X2 [1. X3 :| [Last time X4");
}

TEST_CASE("a pickup stands once, before everything") {
    const auto tune = short_tune("form A A\nsection A\nchanges | C | F |\nmelody e G4 A4 | w G4 | A4 |\n");
    const auto form = arrange::work_out_form(tune, Jumps::never);
    CHECK(shown(tune, form) == "A0 (A) |: A1 A2 :|");
    CHECK(unfolded(tune, form) == form.playing);
}

TEST_CASE("D.C. and D.S. replace music only where the wish says so") {
    const std::string text = "form A A B A\n" + a8 + b8;
    const std::string written_out =
        "(A) |: A1 A2 A3 A4 A5 A6 A7 A8 :| (B) B1 B2 B3 B4 B5 B6 B7 B8 (A3) A1 A2 A3 A4 A5 A6 A7 A8";
    CHECK(shown(text, Jumps::never) == written_out);
    CHECK(shown(text, Jumps::when_it_saves_a_page) == written_out);
    CHECK(shown(text, Jumps::whenever_shorter) ==
          "(A) |: A1 A2 A3 A4 A5 A6 A7 A8 <Fine> :| (B) B1 B2 B3 B4 B5 B6 B7 B8 <D.C. al Fine>");
    const std::string intro = "section I\nchanges | G7 |\n";
    CHECK(shown("form I A A B A\n" + a8 + b8 + intro, Jumps::whenever_shorter) ==
          "(I) I1 (A) segno |: A1 A2 A3 A4 A5 A6 A7 A8 <Fine> :| (B) B1 B2 B3 B4 B5 B6 B7 B8 <D.S. al Fine>");
    const std::string end = "section E\nchanges | C | C |\n";
    CHECK(shown("form A B A E\n" + a8 + b8 + end, Jumps::whenever_shorter) ==
          "(A) A1 A2 A3 A4 A5 A6 A7 A8 <To Coda> (B) B1 B2 B3 B4 B5 B6 B7 B8 <D.C. al Coda> (E) coda E1 E2");
}

TEST_CASE("a jump is taken by itself where it saves a page") {
    std::string text = "form A B C A\n";
    for (const char* name : {"A", "B", "C"}) {
        text += std::string("section ") + name + "\nchanges |";
        for (int bar = 0; bar < 14; ++bar)
            text += std::string(" ") + (bar % 2 == 0 ? name[0] == 'A' ? "C" : "F" : "G7") + " |";
        text += "\n";
    }
    const auto sheet = shown(text, Jumps::when_it_saves_a_page);
    CHECK(sheet.find("<D.C. al Fine>") != std::string::npos);
}

TEST_CASE("repeats inside a section stay as they are written") {
    CHECK(shown("form A B A\nsection A\nchanges |: C | F :| G7 |\nsection B\nchanges | F |\n") ==
          "(A) |: A1 A2 :| A3 (B) B1 (A2) |: A1 A2 :| A3");
    CHECK(shown("form A\nsection A\nchanges |: C | [1 F :| ] [2 G7 ] | C |\n") ==
          "(A) |: A1 [1. A2 :| [2. A3 A4");
}

TEST_CASE("a vamp of the running order stands first and is marked") {
    const auto text =
        "form A\nrunning Head, vamp V | Head last\nsection V\nchanges |: Dm7 | G7 :|\nsection A\nchanges | C "
        "| F |\n";
    CHECK(shown(text) == "(V) |: V1 <vamp until cue> V2 :| (A) A1 A2");
}

TEST_CASE("a tune by signs is printed as it is written") {
    const auto text =
        "section A\nchanges | C | F | G7 | C |\nmarks | segno | . | to coda | . |\n"
        "section B\nchanges | F | G7 |\nmarks | . | D.S. al coda |\nsection O\nchanges | C | C |\nmarks | "
        "coda | . |\n";
    CHECK(shown(text) == "(A) segno A1 A2 A3 <To Coda> A4 (B) B1 B2 <D.S. al Coda> (O) coda O1 O2");
}

TEST_CASE("a long form is worked out quickly") {
    std::string text = "form";
    for (int i = 0; i < 300; ++i) text += i % 3 == 0 ? " B" : " A";
    const auto tune = short_tune(text + "\n" + a8 + b8);
    const auto form = arrange::work_out_form(tune, Jumps::when_it_saves_a_page);
    CHECK(unfolded(tune, form) == form.playing);
    CHECK(form.bars.size() < 100);
}
