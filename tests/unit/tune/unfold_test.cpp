// compiler/tune/unfold.cpp, passages.cpp, signs.cpp: the order of playing.
#include "tune/unfold.h"

#include "tune/passages.h"
#include "unit/tune/reading.h"

using namespace relead;
using namespace relead::tune;
using namespace relead::tune::testing;

namespace {

std::string chorus(const std::string& text) {
    const auto tune = tune_of(text);
    return bar_runs(tune, one_chorus(tune));
}
std::string whole(const std::string& text) {
    const auto tune = tune_of(text);
    return dump(tune, performance(tune));
}
/// A with eight bars of which the marks stand in four groups of two, B and Coda with two.
std::string signs(const std::string& a, const std::string& b, const std::string& coda,
                  const std::string& lines = "") {
    return head(lines) + "section A\nchanges | C | F | G7 | C |\nmarks | " + a +
           " |\nsection B\nchanges |: Am7 | Dm7 :|\nmarks | " + b +
           " |\nsection Coda\nchanges | C | C |\nmarks | " + coda + " |\n";
}

}  // namespace

TEST_CASE("Repeats and their endings", "[tune]") {
    struct Row {
        const char* changes;
        const char* played;
    };
    const Row rows[] = {
        {"| C | F | G7 |", "A:1-3"},
        {"|: C | F :|", "A:1-2 A:1-2"},
        {"| C | F :| G7 |", "A:1-2 A:1-3"},
        {"| C |: F :|*3 G7 |", "A:1-2 A:2 A:2-3"},
        {"|: C | [1 F ] :| [2 G7 ] |", "A:1-2 A:1 A:3"},
        {"|: C | [1,2 F ] :| [3 G7 ] |", "A:1-2 A:1-2 A:1 A:3"},
        {"|: C | [1,2 F ] :|*3 [last G7 ] | C |", "A:1-2 A:1-2 A:1 A:3-4"},
        {"|: C | [1 F ] :| [2 G7 ] :| [3 Am ] |", "A:1-2 A:1 A:3 A:1 A:4"},
        {"|: C | [1 F | F ] :| [2 G7 | G7 ] |", "A:1-3 A:1 A:4-5"},
        {"|: C :|: F :|", "A:1 A:1-2 A:2"},
    };
    for (const auto& row : rows) {
        INFO(row.changes);
        CHECK(chorus(in_section(std::string("changes ") + row.changes)) == row.played);
    }
}

TEST_CASE("Endings count the playings of the section", "[tune]") {
    const auto text = [](const std::string& form, const std::string& endings) {
        return head("form " + form + "\nrunning Head | Head last\n") + "section A\nchanges | C | " + endings +
               " |\nsection B\nchanges | F |\n";
    };
    CHECK(chorus(text("A A B A", "[1 F ] [2,3 G7 ]")) == "A:1-2 A:1 A:3 B:1 A:1 A:3");
    CHECK(chorus(text("A A B A", "[1,2 F ] [last G7 ]")) == "A:1-2 A:1-2 B:1 A:1 A:3");
    CHECK(chorus(text("A A B A", "[1 F ] [2,3 G7 ] [last C ]")) == "A:1-2 A:1 A:3 B:1 A:1 A:3");
    CHECK(whole(text("A A B A", "[1 F ] [2,3 G7 ] [last C ]")) ==
          "Head: A:1-2 A:1 A:3 B:1 A:1 A:3\nHead: A:1-2 A:1 A:3 B:1 A:1 A:4\n");
    CHECK(whole(text("A B", "[1 F ] [last G7 ]")) == "Head: A:1-2 B:1\nHead: A:1 A:3 B:1\n");
}

TEST_CASE("A chorus by signs", "[tune]") {
    CHECK(chorus(signs(". | . | . | .", ". | .", ". | .")) == "A:1-4 B:1-2 B:1-2 Coda:1-2");
    CHECK(chorus(signs(". | fine | . | .", ". | D.C. al fine", ". | .")) == "A:1-4 B:1-2 B:1-2 A:1-2");
    CHECK(chorus(signs(". | fine | . | .", ". | D.C.", ". | .")) == "A:1-4 B:1-2 B:1-2 A:1-2");
    CHECK(chorus(signs("segno | . | to coda | .", ". | D.S. al coda", "coda | .")) ==
          "A:1-4 B:1-2 B:1-2 A:1-3 Coda:1-2");
    CHECK(chorus(signs(". | segno | . | .", "fine | D.S. al fine", ". | .")) ==
          "A:1-4 B:1-2 B:1-2 A:2-4 B:1");
    // Repeats are not taken again on the way back, those behind the coda sign are.
    CHECK(chorus(signs(". | segno | . | .", "to coda | .", ". | D.S. al coda") +
                 "section End\nchanges |: F | C :|\nmarks | coda | . |\n") ==
          "A:1-4 B:1-2 B:1-2 Coda:1-2 A:2-4 B:1 End:1-2 End:1-2");
    // A plain D.S. without a fine plays to the end.
    CHECK(chorus(signs(". | segno | . | .", ". | .", ". | D.S.")) ==
          "A:1-4 B:1-2 B:1-2 Coda:1-2 A:2-4 B:1-2 Coda:1-2");
}

TEST_CASE("A coda that no D.S. leads to is for the last chorus", "[tune]") {
    const auto text = signs(". | . | . | to coda", ". | .", "coda | .", "running Head | Head last\n");
    CHECK(chorus(text) == "A:1-4 B:1-2 B:1-2");
    CHECK(whole(text) == "Head: A:1-4 B:1-2 B:1-2\nHead: A:1-4 Coda:1-2\n");
}

TEST_CASE("A pickup is played once, at the very start", "[tune]") {
    const auto text = head("form A A\nrunning Head 2 times\n") +
                      "section A\nchanges | C | F |\nmelody q C5 | w C5 | D5 |\n";
    const auto tune = tune_of(text);
    const auto bars = one_chorus(tune);
    CHECK(dump(tune, bars) == "0 A:pickup\n1/4 A:1-2\n9/4 A:1-2 (2)\n");
    CHECK(whole(text) == "Head: A:pickup A:1-2 A:1-2\nHead: A:1-2 A:1-2\n");
    CHECK(chorus(in_section("changes | C | F |\nmelody q C5 | w C5 | D5 |\nmarks | . | D.C. |")) ==
          "A:pickup A:1-2 A:1-2");
}

TEST_CASE("The running order: times, vamps, tags and sections of their own", "[tune]") {
    const auto text = [](const std::string& running) {
        return head("form A\nrunning " + running + "\n") +
               "section Intro\nchanges | G7 |\nsection A\nchanges | C | F | G7 | C |\n";
    };
    CHECK(whole(text("Intro | Head 2 times | Solos open, each soloist, written changes | Head last")) ==
          "Intro: Intro:1\nHead: A:1-4\nHead: A:1-4\nSolos: A:1-4\nHead: A:1-4\n");
    CHECK(whole(text("Head, vamp Intro | Head last, tag A:3-4 2 times")) ==
          "Head: Intro:1 A:1-4\nHead: A:1-4 A:3-4 A:3-4\n");
    CHECK(whole(text("Head, vamp Intro | Head last, tag A:2-3 2 times")) ==
          "Head: Intro:1 A:1-4\nHead: A:1-3 A:2-3 A:2-4\n");
    CHECK(whole(text("Head last, tag Intro:1 2 times")) == "Head: A:1-4 Intro:1 Intro:1\n");
    const auto tune = tune_of(text("Head, vamp Intro"));
    const auto played = performance(tune);
    CHECK(played[0].bars.back().start == Time(4));
    CHECK(played[0].item.vamp == "Intro");
}

TEST_CASE("Without a running line there is one head", "[tune]") {
    CHECK(whole(in_section("changes | C | [1 F ] [last G7 ] |")) == "Head: A:1 A:3\n");
}

TEST_CASE("Played chords have their times in the chorus", "[tune]") {
    const auto tune = tune_of(in_section("changes |: Dm7 G7 | C :|\nmelody q G4 | w A4 | G4 |"));
    const auto chords = played_chords(tune);
    REQUIRE(chords.size() == 6);
    CHECK(chords[1].start == Time(3, 4));
    CHECK(chords[1].length == Time(1, 2));
    CHECK(chords[3].start == Time(9, 4));
    CHECK(chords[5].ref == ChordRef{0, 2, 0});
    CHECK(chords[5].playing == 0);
}

TEST_CASE("Passages: the shape of a section", "[tune]") {
    const auto tune = tune_of(
        in_section("changes | C |: F | [1 G7 ] :| [2 C ] | Am |\nmelody q C5 | w r | r | r | r | r |"));
    const auto found = passages(tune.sections[0]);
    REQUIRE(found.size() == 3);
    CHECK(found[0].first == 1);
    CHECK(found[1].repeated);
    CHECK(found[1].opened);
    REQUIRE(found[1].endings.size() == 2);
    CHECK(found[1].endings[1].takes(2));
    CHECK(found[1].times == 2);
    CHECK(found[2].first == 5);
    CHECK(found[2].last == 6);
}

TEST_CASE("Unfolding stops at the limit", "[tune]") {
    const auto tune = tune_of(in_section("changes |: C :|*99"));
    Limits limits;
    limits.unfolded_bars = 10;
    const auto cut = play_chorus(tune, {}, limits);
    CHECK(cut.cut);
    CHECK(cut.bars.size() == 10);
    CHECK(!play_chorus(tune, {}).cut);
    CHECK(performance(tune, limits).front().bars.size() == 10);
}
