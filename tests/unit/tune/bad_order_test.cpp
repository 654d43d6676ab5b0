// compiler/tune/check_repeats.cpp, check_order.cpp, lower.cpp: forms, repeats, endings and signs.
#include "unit/tune/reading.h"

using namespace relead;
using namespace relead::tune::testing;

TEST_CASE("Heads that say less than they could", "[tune]") {
    const Broken rows[] = {
        {"tune \"T\"\nmeter 4/4\ntempo 120\nsection A\nchanges | Dm7 | G7 | C6 |\n", "no-key", "",
         "tune \"T\"", "No key is given; C major is taken.", "\nkey C major"},
        {"tune \"T\"\nkey C major\ntempo 120\nsection A\nchanges | C |\n", "no-meter", "", "tune \"T\"",
         "No meter is given; 4/4 is taken.", "\nmeter 4/4"},
        {"tune \"T\"\nkey C major\nmeter 4/4\nsection A\nchanges | C |\n", "no-tempo", "", "tune \"T\"",
         "No tempo is given; 120 beats a minute are taken.", "\ntempo 120"},
    };
    for (const auto& row : rows) check(row);
    CHECK(codes(read(head()).diagnostics) == "tune-empty");
    CHECK(!read(head()).value.has_value());
}

TEST_CASE("Sections that do not fit together", "[tune]") {
    const Broken rows[] = {
        {in_form("form A B C A\n"), "section-unknown", "", "C",
         "The form plays a section C, which the tune does not have.", "A"},
        {in_form("form A A\n"), "section-never-played", "", "section B",
         "The section B is never played: the form leaves it out.", "none"},
        {head() + "section A\nchanges | C |\nsection A\nchanges | F |\n", "section-twice", "", "A",
         "There are two sections A; give one of them another name.", "none"},
        {head() + "section A\nchanges | C |\nsection B\n", "section-empty", "", "B",
         "The section B has no bars.", "none"},
    };
    for (const auto& row : rows) check(row);
    check({head("form A B\n") + "section A\nchanges | C |\nsection B\nchanges | F |\nmelody q C5 | w D5 |\n",
           "pickup-never-played", "B:pickup", "q C5",
           "The pickup of B is never played, since the tune begins elsewhere; write it into the bar before.",
           "none"});
    // A vamp, a tag and an item of its own play a section too.
    for (const auto* running : {"Head, vamp B", "Head last, tag B:1-2 2 times", "B | Head | Head last"})
        CHECK(codes(read(in_form("form A\nrunning " + std::string(running) + "\n")).diagnostics) == "");
}

TEST_CASE("Repeats that are not clear", "[tune]") {
    const Broken rows[] = {
        {in_section("changes | C |: F | G7 |"), "repeat-without-end", "A:2", "F",
         "The repeat that begins at A:2 is never closed with :|.", "none"},
        {in_section("changes |: C :| F :|"), "repeat-without-start", "A:2", ":|",
         "The repeat that ends at A:2 has no |: to go back to.", "none"},
        {in_section("changes |: C |: F :| G7 |"), "repeat-nested", "A:2", "F",
         "A repeat begins at A:2 inside the one that begins at A:1; repeats cannot stand inside each other.",
         "none"},
        {in_section("changes |: C | [1 F ] [2 G7 ] |"), "repeat-without-end", "A:1", "C",
         "The repeat that begins at A:1 is never closed with :|.", "none"},
        {in_section("changes |: C | [1 F ] [2 F :| ] [3 G7 ] |"), "ending-not-repeated", "A:2", "[1",
         "The ending at A:2 does not go back to the repeat; close it with :|.", "none"},
        {in_section("changes |: C | [1 F :| ] [2 G7 ] :|"), "ending-missing", "A:3", ":|",
         "The last ending at A:3 goes back once more, but no ending is for the third time.", "none"},
        {in_section("changes |: C | [1 F :|*3 ] [3 G7 ] |"), "ending-missing", "A:3", "[3",
         "The repeat in A is played 3 times, but no ending is for the second.", "[2,3"},
        {in_section("changes |: C | [1 F :| ] [1,2 G7 ] |"), "ending-twice", "A:3", "[1,2",
         "Two endings of A are for the first time.", "none"},
    };
    for (const auto& row : rows) check(row);
    for (const auto* fine : {"changes | C :| F |", "changes |: C | [1,2 F :| ] [last G7 ] |",
                             "changes |: C | [1,2 F :|*3 ] [3 G7 ] |", "changes |: C :|: F :|*4"})
        CHECK(codes(read(in_section(fine)).diagnostics) == "");
}

namespace {

std::string played(const std::string& form, const std::string& running, const std::string& endings) {
    return head("form " + form + "\nrunning " + running + "\n") + "section A\nchanges | C | " + endings +
           " |\nsection B\nchanges | F |\n";
}

}  // namespace

TEST_CASE("Endings against how often the section is played", "[tune]") {
    const Broken rows[] = {
        {played("A A B A", "Head", "[1 F ] [2 G7 ]"), "ending-missing", "A:3", "[2",
         "A is played 3 times, but no ending is for the third.", "[2,3"},
        {played("A A B A", "Head", "[1 F ] [3 G7 ]"), "ending-missing", "A:3", "[3",
         "A is played 3 times, but no ending is for the second.", "[2,3"},
        {played("A A B", "Head", "[1 F ] [2 G7 ] [3 C ]"), "ending-never-played", "A:4", "[3",
         "The ending at A:4 is for the third time, but A is played 2 times only.", "none"},
        {played("A B", "Head", "[1 F ] [2 C ]"), "ending-never-played", "A:3", "[2",
         "The ending at A:3 is for the second time, but A is played once only.", "none"},
        {played("A B", "Head | Solos open | Head", "[1 F ] [last G7 ]"), "last-ending-never-played", "A:3",
         "[last", "The last ending at A:3 is never played; say `last` in the running line, as in Head last.",
         "none"},
        {played("A A B", "Head", "[1 F ] [1,2 G7 ]"), "ending-twice", "A:3", "[1,2",
         "Two endings of A are for the first time.", "none"},
    };
    for (const auto& row : rows) check(row);
    for (const auto* fine :
         {"[1,2 F ] [3 G7 ]", "[1 F ] [2,3 G7 ]", "[1,2 F ] [last G7 ]", "[1,2,3 F ] [last G7 ]"})
        CHECK(codes(read(played("A A B A", "Head | Head last", fine)).diagnostics) == "");
}

namespace {

/// Four bars in A, two in B, without a form; `marks` in A and B.
std::string signed_tune(const std::string& a, const std::string& b) {
    return head() + "section A\nchanges | C | F | G7 | C |\nmarks | " + a +
           " |\nsection B\nchanges | Am7 | Dm7 |\nmarks | " + b + " |\n";
}

}  // namespace

TEST_CASE("Signs that miss each other", "[tune]") {
    const Broken rows[] = {
        {signed_tune(". | . | . | D.S.", ". | ."), "segno-missing", "A:4", "D.S.",
         "The D.S. at A:4 has no segno to go back to.", "D.C."},
        {signed_tune("segno | . | . | .", ". | ."), "segno-unused", "A:1", "segno",
         "No D.S. leads to the segno at A:1.", "none"},
        {signed_tune(". | . | . | D.C. al fine", ". | ."), "fine-missing", "A:4", "D.C. al fine",
         "The sign at A:4 plays to a fine, but there is none.", "none"},
        {signed_tune(". | fine | . | .", ". | ."), "fine-unused", "A:2", "fine",
         "No D.C. or D.S. al fine leads to the fine at A:2.", "none"},
        {signed_tune(". | to coda | . | D.C. al coda", ". | ."), "coda-missing", "A:2", "to coda",
         "The sign at A:2 leads to a coda, but no bar is marked coda.", "none"},
        {signed_tune(". | . | . | D.C. al coda", "coda | ."), "to-coda-missing", "B:1", "coda",
         "No bar is marked to coda, so nothing leads to the coda at B:1.", "none"},
        {signed_tune(". | coda | . | D.C. al coda", "coda | ."), "sign-twice to-coda-missing", "B:1", "coda",
         "There is such a sign at A:2 already; one tune has one of each.", "to coda"},
        {signed_tune(". | . | . | D.C.", ". | D.C."), "sign-twice", "B:2", "D.C.",
         "There is such a sign at A:4 already; one tune has one of each.", "none"},
        {signed_tune("to coda | segno | . | D.S. al coda", "coda | ."), "to-coda-missing", "A:1", "to coda",
         "The way back begins at A:2, behind the to coda at A:1.", "none"},
        {signed_tune("fine | segno | . | D.S. al fine", ". | ."), "fine-missing", "A:1", "fine",
         "The way back begins at A:2, behind the fine at A:1.", "none"},
    };
    for (const auto& row : rows) {
        if (row.code.find(' ') == std::string::npos) {
            check(row);
            continue;
        }
        const auto outcome = read(row.text);
        CHECK(outcome.diagnostics.size() == 2);
        CHECK(codes(outcome.diagnostics).find("sign-twice") != std::string::npos);
    }
}

TEST_CASE("Two orders of playing", "[tune]") {
    const auto text = in_form("form A B A B\n", "marks | . | fine |\n", "marks | . | D.C. al fine |\n");
    check(
        {text, "two-orders", "", "form A B A B",
         "Form and signs disagree: the form plays A:1-2 B:1-2 A:1-2 B:1-2, the signs play A:1-2 B:1-2 A:1-2. "
         "Keep one of them.",
         ""});
    const auto agreeing = in_form("form A B A\n", "marks | . | fine |\n", "marks | . | D.C. al fine |\n");
    CHECK(codes(read(agreeing).diagnostics) == "signs-repeat-form");
}

TEST_CASE("Playing orders beyond the limit", "[tune]") {
    Limits limits;
    limits.unfolded_bars = 7;
    const auto text = in_form("form A B\nrunning Head 2 times\n");
    CHECK(codes(read(text, limits).diagnostics) == "unfolds-too-long");
    limits.unfolded_bars = 8;
    CHECK(codes(read(text, limits).diagnostics) == "");
    // A repeat of 99 inside a form of a few sections is a limit too, not a long wait.
    limits.unfolded_bars = 50;
    CHECK(codes(read(in_section("changes |: C :|*99"), limits).diagnostics) == "unfolds-too-long");
}
