// compiler/syntax/parse_chord_cell.cpp, parse_note_cell.cpp, note_word.cpp, parse_word_cells.cpp: what
// cannot stand in a bar. Every text has its other bars in order, so that places are seen to be right.
#include "unit/syntax/reading.h"

using namespace relead;
using namespace relead::syntax::testing;

namespace {
/// The cell is bar 3 of section A.
std::string chords(const std::string& cell) {
    return in_section("changes | C | F | " + cell + " | C |");
}
std::string row(const std::string& word, const std::string& cell) {
    return under_changes(word + " | . | . | " + cell + " | . |");
}
}  // namespace

TEST_CASE("Broken chord words", "[syntax]") {
    const Broken rows[] = {
        {chords("Cmaj8"), "chord-unknown", "A:3", "Cmaj8", "Cmaj"},
        {chords("g7"), "chord-unknown", "A:3", "g7", "G7"},
        {chords("H7"), "chord-unknown", "A:3", "H7", "B7"},
        {chords("C--x"), "chord-unknown", "A:3", "C--x", "none"},
        {chords("\"G7\""), "chord-unknown", "A:3", "\"G7\"", "none"},
        {chords("C7 . . ."), "chord-unknown chord-unknown chord-unknown", "A:3", ".", "/"},
        {chords("C7 (b9)"), "chord-spacing", "A:3", "(b9)", ""},
        {chords("Gm7/"), "chord-spacing", "A:3", "Gm7/", " "},
        {chords("Em7/A7"), "chord-or-bass", "A:3", "Em7/A7", "Em7 A7"},
        {chords("< C7"), "chord-sign-misplaced", "A:3", "<", ""},
        {chords("C7 <"), "chord-sign-misplaced", "A:3", "<", ""},
        {chords(">>C7"), "chord-sign-misplaced", "A:3", ">>C7", "none"},
        {chords("C7!*2 F7*2"), "chord-sign-misplaced", "A:3", "C7!*2", "C7*2!"},
        {chords("C7 ! F7"), "chord-sign-misplaced", "A:3", "!", "none"},
        {chords("C7 /!"), "chord-sign-misplaced", "A:3", "/!", "none"},
        {chords("C7*x"), "beats-unreadable", "A:3", "*x", "none"},
        {chords("C7*0"), "beats-unreadable", "A:3", "*0", "none"},
        {chords("C7*2/E"), "beats-unreadable", "A:3", "*2/E", "C7/E*2"},
        {chords("% C7"), "simile-not-alone", "A:3", "%", "/"},
    };
    for (const auto& one : rows) {
        if (one.code.find(' ') == std::string::npos) check(one);
        if (one.code.find(' ') != std::string::npos)
            CHECK(codes(read_with_chords(one.text).diagnostics) == one.code);
    }
}

TEST_CASE("A remark says how a symbol with several readings is taken", "[syntax]") {
    const auto reading = read_with_chords(chords("C11"));
    REQUIRE(codes(reading.diagnostics) == "chord-reading");
    CHECK(reading.diagnostics[0].severity == Severity::remark);
    CHECK(text::to_string(reading.diagnostics[0].place) == "A:3");
}

TEST_CASE("Broken notes", "[syntax]") {
    const Broken rows[] = {
        {row("melody", "q c5"), "note-unreadable", "A:3", "c5", "C5"},
        {row("melody", "q H4"), "note-unreadable", "A:3", "H4", "B4"},
        {row("melody", "qC5"), "note-unreadable", "A:3", "qC5", "q C5"},
        {row("melody", "C5q."), "note-unreadable", "A:3", "C5q.", "q. C5"},
        {row("melody", "q R"), "note-unreadable", "A:3", "R", "r"},
        {row("melody", "q C5 ."), "note-unreadable", "A:3", ".", "?"},
        {row("melody", "q C99"), "note-unreadable", "A:3", "C99", "none"},
        {row("melody", "\"hey\""), "note-unreadable", "A:3", "\"hey\"", "none"},
        {row("bass", "q C"), "octave-missing", "A:3", "C", "C4"},
        {row("melody", "q G5 bb"), "octave-missing", "A:3", "bb", "Bb5"},
        {row("melody", "q C5 e"), "duration-without-note", "A:3", "e", "none"},
        {row("melody", "q e C5"), "duration-without-note", "A:3", "q", "none"},
        {row("melody", "h C5 ~ C5"), "tie-misplaced", "A:3", "~", ""},
        {row("melody", "~ C5"), "tie-misplaced", "A:3", "~", "none"},
        {row("melody", "h r~ C5"), "tie-misplaced", "A:3", "r~", ""},
        {row("melody", "[3 C5 D5 E5]"), "tuplet-unreadable", "A:3", "[3", "[3:2"},
        {row("melody", "[5 C5 D5 E5 F5 G5]"), "tuplet-unreadable", "A:3", "[5", "[5:4"},
        {row("melody", "[3:0 C5 D5 E5]"), "tuplet-unreadable", "A:3", "[3:0", "[3:2"},
        {row("melody", "[3:2 C5 D5 E5"), "tuplet-unclosed", "A:3", "[3:2", "]"},
        {row("melody", "C5]"), "tuplet-misplaced", "A:3", "]", ""},
        {row("melody", "C5 [3:2 ]"), "tuplet-misplaced", "A:3", "[3:2 ]", "none"},
        {row("melody", "(C5 D5"), "slur-unclosed", "A:3", "C5", "none"},
        {row("melody", "C5 D5)"), "slur-misplaced", "A:3", "D5", "none"},
        {row("melody", "C5 ("), "slur-misplaced", "A:3", "(", "none"},
        {row("melody", ") C5"), "slur-misplaced", "A:3", ")", ""},
        {row("hits", "(x)"), "slur-misplaced slur-misplaced", "A:3", "(", ""},
        {row("melody", "{q} C5"), "grace-unreadable", "A:3", "q", "none"},
        {row("melody", "{} C5"), "grace-unreadable", "A:3", "{}", "none"},
        {row("melody", "C5 {D5}"), "grace-unreadable", "A:3", "{D5}", "none"},
        {row("melody", "{D5 C5"), "grace-unreadable grace-unreadable", "A:3", "{D5 C5 ", "none"},
        {row("hits", "q {C5} x"), "grace-unreadable", "A:3", "{C5}", ""},
        {row("hits", "q C5"), "hit-unreadable", "A:3", "C5", "x"},
        {row("hits", "q ?"), "hit-unreadable", "A:3", "?", "none"},
    };
    for (const auto& one : rows) {
        if (one.code.find(' ') == std::string::npos) check(one);
        if (one.code.find(' ') != std::string::npos)
            CHECK(codes(read_with_chords(one.text).diagnostics) == one.code);
    }
}

TEST_CASE("Broken lyrics and marks", "[syntax]") {
    const Broken rows[] = {
        {row("lyrics", "Fer - ry"), "lyric-misplaced", "A:3", "-", ""},
        {row("lyrics", "- ry"), "lyric-misplaced", "A:3", "-", "none"},
        {row("lyrics", "light __"), "lyric-misplaced", "A:3", "__", "_ _"},
        {row("lyrics", "don\"t"), "quote-unclosed", "", "\"t | . |", "\""},
        {row("marks", "cdoa"), "mark-unknown", "A:3", "cdoa", "coda"},
        {row("marks", "rit."), "mark-unknown", "A:3", "rit.", "ritard"},
        {row("marks", "walk"), "mark-unknown", "A:3", "walk", "\"walk\""},
        {row("marks", "fine,"), "mark-unknown", "A:3", ",", "\",\""},
    };
    for (const auto& one : rows)
        if (one.code != "quote-unclosed") check(one);
    // The text runs to the line's end, so that a bar is lost too; the first thing said is the quote.
    CHECK(read(rows[3].text).diagnostics.front().code == "quote-unclosed");
}
