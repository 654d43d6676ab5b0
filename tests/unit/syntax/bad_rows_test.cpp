// compiler/syntax/parse_tune.cpp, parse_row.cpp, check_section.cpp: broken sections, rows and bar signs.
#include "unit/syntax/reading.h"

using namespace relead;
using namespace relead::syntax::testing;

TEST_CASE("Broken sections", "[syntax]") {
    const Broken rows[] = {
        {head() + "section\nchanges | C |\n", "section-unnamed", "", "", "none"},
        {head() + "section A:1\nchanges | C |\n", "name-unreadable", "", "A:1", "none"},
        {head() + "changes | C |\n", "line-outside-section", "", "changes", "section A\n"},
        {in_plan("changes | C |"), "line-outside-section", "", "changes", "none"},
        {in_plan("meter 3/4"), "line-outside-section", "", "meter", "none"},
        {in_section("changes | C |\nkey G major"), "line-before-nothing", "", "key G major", "none"},
        {in_section("key G major\nkey D major\nchanges | C |"), "header-twice", "", "key D major", "none"},
        {in_section("melody | C5 |\nchanges | C |"), "row-before-changes", "A:1", "melody", "none"},
        {in_section("changes | C |\nmelody | q C5 |\nmelody | q D5 |"), "row-twice", "A:1", "melody", "none"},
        {in_section("chnages | C |"), "line-unknown", "A:1", "chnages", "changes"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Rows that do not fit their changes", "[syntax]") {
    const Broken rows[] = {
        {in_section("changes C F"), "row-without-bars", "A:1", "C F", "none"},
        {in_section("changes | C | F"), "row-not-closed", "A:2", "", " |"},
        {under_changes("melody | w C5 | A4 | G4 |"), "row-missing-cell", "A:4", "", " . |"},
        {under_changes("hits | . | . | . | . | w X |"), "row-extra-cell", "A:5", "w X", "none"},
        {in_section("changes | C | | G7 |"), "cell-empty", "A:2", "|", "% "},
        {in_section("changes | C | . | G7 |"), "cell-empty", "A:2", ".", "%"},
        {under_changes("melody | w C5 | | G4 | C5 |"), "cell-empty", "A:2", "|", ". "},
        {in_section("changes | C |\nchanges G7 | C |"), "pickup-not-first", "A:2", "G7", "| "},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Repeats and endings that cannot stand", "[syntax]") {
    const Broken rows[] = {
        {under_changes("melody |: w C5 | A4 | G4 | C5 |"), "sign-in-other-row", "A:1", "|:", "|"},
        {under_changes("melody | w C5 | A4 | [1 G4 | C5 |"), "sign-in-other-row", "A:2", "[1", ""},
        {in_section("changes | C | [1 G7 ] [2 C ] |\nossia | . | . ] [2 C |"), "sign-in-other-row", "A:2",
         "]", "|"},
        {in_section("changes :| C |"), "repeat-misplaced", "A:1", ":|", "none"},
        {in_section("changes | C |:"), "repeat-misplaced", "A:1", "", "none"},
        {in_section("changes |: C :|*1"), "repeat-count", "A:1", ":|*1", ":|"},
        {in_section("changes |: C :|*"), "repeat-count", "A:1", ":|*", ":|"},
        {in_section("changes | C | [x G7 ] |"), "ending-unreadable", "A:2", "[x", "none"},
        {in_section("changes | C | [2,2 G7 ] |"), "ending-unreadable", "A:2", "[2,2", "none"},
        {in_section("changes | C | [1 G7 | C |"), "ending-unclosed", "A:2", "[1", " ]"},
        {in_section("changes | C | [1 G7 | [2 C ] |"), "ending-unclosed", "A:2", "[1", "] "},
        {in_section("changes | C ] | G7 |"), "ending-misplaced", "A:1", "]", ""},
        {in_section("changes | C [1 G7 ] |"), "ending-misplaced", "A:1", "[1", "| "},
        {in_section("changes | [1 C ] G7 |"), "ending-misplaced", "A:1", "G7", "| "},
        {in_section("changes | C | [1"), "ending-misplaced", "A:1", "[1", "none"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Each limit has its diagnostic", "[syntax]") {
    Limits limits;
    limits.sections = 1;
    limits.bars = 2;
    limits.chords_in_bar = 2;
    limits.notes_in_bar = 2;
    limits.tuplet_depth = 1;
    limits.plans = 1;
    const auto said = [&](const std::string& text) { return codes(read(text, limits).diagnostics); };
    CHECK(said(in_section("changes | C |") + "section B\nchanges | C |\nsection C\n") ==
          "too-many-sections too-many-sections");
    CHECK(said(in_section("changes | C | F | G7 | C |\nchanges | C |")) == "too-many-bars too-many-bars");
    CHECK(said(in_section("changes | C F G7 C |")) == "bar-too-full");
    CHECK(said(in_section("changes | C |\nmelody | q C5 D5 E5 F5 |")) == "bar-too-full");
    CHECK(said(in_section("changes | C |\nlyrics | a b c d |")) == "bar-too-full");
    CHECK(said(in_section("changes | C |\nmarks | coda coda coda |")) == "bar-too-full");
    CHECK(said(in_section("changes | C |\nmelody | [3:2 [3:2 C5 ]] |")) == "nested-too-deep");
    CHECK(said(in_plan("") + "plan \"q\" for band\n  use tritone\n") == "too-many-plans");
    limits.bars = 1;
    const auto cut = read(in_section("changes | C | F |\nmelody | w C5 | F5 |"), limits);
    CHECK(cut.tree.sections[0].groups[0].rows[0].cells.size() == 1);
    CHECK(cut.tree.sections[0].groups[0].rows[1].cells.size() == 1);
}
