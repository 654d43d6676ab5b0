// compiler/text/unicode.cpp and grapheme.cpp
// Clusters: UAX #29 (Unicode 15), rules GB9, GB11, GB12; widths: UAX #11 East Asian Width.
#include "support/catch.h"
#include "text/grapheme.h"
#include "text/source.h"

using namespace relead::text;

TEST_CASE("composed and decomposed names are the same text") {
    CHECK(nfc("Cafe\u0301") == "Caf\u00e9");
    CHECK(nfc("plain") == "plain");
    CHECK(nfc("\u1112\u1161\u11ab") == "\ud55c");
    CHECK(nfc("\u2126") == "\u03a9");  // OHM SIGN is canonically OMEGA
    CHECK(nfc("\u25b3") == "\u25b3");  // triangles are different signs to Unicode
    CHECK(same_text("Cafe\u0301", "Caf\u00e9"));
    CHECK(same_text("q\u0323\u0307", "q\u0307\u0323"));
    CHECK_FALSE(same_text("Cafe", "Caf\u00e9"));
    CHECK_FALSE(same_text("a", "b"));
}

TEST_CASE("an endless heap of combining marks is left as it stands, quickly") {
    std::string heap = "e";
    while (heap.size() < 4'000'000) heap += "\u0301\u0323";  // sorting these is quadratic
    CHECK(nfc(heap) == heap);
    CHECK(grapheme_count(heap) == 1);
    CHECK(display_width(heap) == 1);
}

TEST_CASE("user-perceived characters and their columns") {
    struct Row {
        std::string text;
        int clusters, columns;
    };
    const Row rows[] = {
        {"", 0, 0},
        {"Dm7", 3, 3},
        {"e\u0301", 1, 1},
        {"B\u266d\u25b37", 4, 4},
        {"F\u266f\u00f87", 4, 4},
        {"\u6e2f\u306e\u5149", 3, 6},
        {"\uff21", 1, 2},
        {"\u05d0\u05d1\u05d2", 3, 3},
        {"\u1112\u1161\u11ab", 1, 2},
        {"\U0001F3B7", 1, 2},
        {"\U0001F469\u200D\U0001F3A4", 1, 2},
        {"\U0001F1EB\U0001F1F7", 1, 2},
        {"\u2764\uFE0F", 1, 2},
        {"a\uFE0F", 1, 1},
        {"1\uFE0F\u20E3", 1, 2},
        {"a\u200bb", 3, 2},
        {"\U0001D15E", 1, 1},
        {"\u0301", 1, 0},
        {"a\r\nb", 3, 2},
        {"\u0600"
         "1",
         1, 1},
    };
    for (const auto& row : rows) {
        INFO(row.text);
        CHECK(grapheme_count(row.text) == row.clusters);
        CHECK(display_width(row.text) == row.columns);
    }
}

TEST_CASE("what could disturb a terminal is known") {
    CHECK(hazard_of(U'\x1b') == Hazard::control);
    CHECK(hazard_of(0x9B) == Hazard::control);
    CHECK(hazard_of(0x202E) == Hazard::bidi_control);
    CHECK(hazard_of(0x2067) == Hazard::bidi_control);
    CHECK(hazard_of(0x2028) == Hazard::bidi_control);
    CHECK(hazard_of(U'A') == Hazard::none);
    CHECK(hazard_of(0x200D) == Hazard::none);
    CHECK(is_right_to_left(0x5D0));
    CHECK(is_right_to_left(0x627));
    CHECK_FALSE(is_right_to_left(U'a'));
}
