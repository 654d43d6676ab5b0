// compiler/syntax/lexer.cpp, dump_tokens.cpp: the tokens of each mode.
#include "syntax/lexer.h"

#include "syntax/dump.h"
#include "unit/syntax/reading.h"

using namespace relead;
using namespace relead::syntax;

namespace {
/// Tokens of one line inside a section, without its number.
std::string tokens(const std::string& line) {
    const auto text = dump_tokens(text::Source("t", "section A\n" + line));
    const auto last = text.substr(text.find("\n2:") + 4);
    return last.substr(0, last.size() - 1);
}
}  // namespace

TEST_CASE("The first word sets the mode of its line", "[syntax]") {
    CHECK(line_mode("changes", Block::section) == LineMode::chord_row);
    CHECK(line_mode("Ossia", Block::section) == LineMode::chord_row);
    CHECK(line_mode("hits", Block::section) == LineMode::note_row);
    CHECK(line_mode("lyrics", Block::section) == LineMode::lyric_row);
    CHECK(line_mode("marks", Block::section) == LineMode::plain);
    CHECK(line_mode("melody", Block::plan) == LineMode::plain);
    CHECK(line_mode("tune", Block::head) == LineMode::plain);
}

TEST_CASE("Tokens line by line", "[syntax]") {
    const std::pair<const char*, const char*> rows[] = {
        {"changes |: C7(b9, #11) |", "chords first changes bar |: word C7(b9, #11) bar |"},
        {"changes | C/E Gm7*3/2 <F6! |", "chords first changes bar | word C/E word Gm7*3/2 word <F6! bar |"},
        {"changes |C|[1 D ][2,3 E:|*3",
         "chords first changes bar | word C bar | open [1 word D close ] open [2,3 word E bar :|*3"},
        {"changes C :||: D ||: E :|| F :|: G || |: A",
         "chords first changes word C bar :||: word D bar ||: word E bar :|| word F bar :|: word G bar || "
         "bar |: word A"},
        {"changes C7(b9 | D", "chords first changes word C7(b9 bar | word D"},
        {"changes C--x -- a comment", "chords first changes word C--x comment a comment"},
        {"changes C-- | D --", "chords first changes word C-- bar | word D comment "},
        {"melody | q. (C5~ e {D5 E5} F5) [3:2 G5 A5]",
         "notes first melody bar | word q. slur ( word C5~ word e grace {D5 E5} word F5 slur-end ) open [3:2 "
         "word G5 word A5 close ]"},
        {"melody {C5 | D5", "notes first melody grace {C5  bar | word D5"},
        {"lyrics | Fer- ry: \"to the\" _ |",
         "lyrics first lyrics bar | word Fer- word ry: quoted \"to the\" word _ bar |"},
        {"lyrics | “so” it's (oh) [ah] |",
         "lyrics first lyrics bar | word “so” word it's word (oh) word [ah] bar |"},
        {"marks | D.S. al coda \"a -- b\" | . |",
         "plain first marks bar | word D.S. word al word coda quoted \"a -- b\" bar | word . bar |"},
        {"running Head 2 times, last | Solos",
         "plain first running word Head word 2 word times comma , word last bar | word Solos"},
        {"-- only a comment", "comment only a comment"},
        {"changes\t|\xC2\xA0"
         "C\xE3\x80\x80| D |",
         "chords first changes bar | word C bar | word D bar |"},
    };
    for (const auto& [line, expected] : rows) {
        INFO(line);
        CHECK(tokens(line) == expected);
    }
}

TEST_CASE("Bar signs are read apart", "[syntax]") {
    CHECK(read_bar_sign(":|*12").times == "12");
    CHECK(read_bar_sign(":|*12").repeat_ends);
    CHECK_FALSE(read_bar_sign(":|*12").repeat_begins);
    CHECK(read_bar_sign("||:").is_double);
    CHECK(read_bar_sign("||:").repeat_begins);
    CHECK(read_bar_sign(":||:").repeat_ends);
    CHECK(read_bar_sign(":||:").repeat_begins);
    CHECK_FALSE(read_bar_sign(":||:").is_double);
    CHECK_FALSE(read_bar_sign("|").repeat_ends);
}
