// The tokens of one line of a tune. There is one lexer with a mode per kind of line; the mode is set by
// the line's first word and the block it stands in (line_mode below).
#pragma once

#include <string>
#include <string_view>

#include "syntax/cursor.h"
#include "syntax/line_feed.h"
#include "text/diagnose.h"

namespace relead::syntax {

enum class LineMode {
    plain,      ///< heads, plans, marks: words, quoted texts, commas, bar signs
    chord_row,  ///< chord words (blanks and bar signs inside parentheses belong to them), endings
    note_row,   ///< notes, durations, and the signs ( ) [3:2 ] {C5} each by itself
    lyric_row,  ///< syllables; only the plain bar sign separates
};

/// Which part of the tune a line stands in.
enum class Block { head, section, plan };

struct Token {
    enum class Kind {
        word,
        quoted,  ///< `text` holds it without quotes and escapes
        comma,
        bar,    ///< | || |: :| :|: ||: :|| :||: and :|*3
        open,   ///< [1 [2,3 [last; in note rows [3:2
        close,  ///< ]
        slur_begin,
        slur_end,
        grace,  ///< {…}, or { to the bar sign when it is not closed
        end,    ///< of the line
    };
    Kind kind = Kind::end;
    std::string_view raw;
    std::string text;
    Span span;
    bool blank_before = true;  ///< white space (or the line's start) stands before it
};

/// What a bar sign says.
struct BarSign {
    bool repeat_begins = false;
    bool repeat_ends = false;
    bool is_double = false;
    std::string_view times;  ///< of :|*3; empty when not stated
};
[[nodiscard]] BarSign read_bar_sign(std::string_view raw);

/// Mode of a line whose first word is `word`, in a block.
[[nodiscard]] LineMode line_mode(std::string_view word, Block block);

class Lexer {
public:
    /// Lexes from where the cursor stands to the end of its line.
    Lexer(Cursor cursor, LineMode mode, text::Sink& sink) : cursor_(cursor), mode_(mode), sink_(&sink) {
        advance();
    }

    [[nodiscard]] const Token& peek() const { return token_; }
    [[nodiscard]] bool at(Token::Kind kind) const { return token_.kind == kind; }
    [[nodiscard]] bool at_end() const { return token_.kind == Token::Kind::end; }
    Token next();
    /// The line after the token in `peek`.
    [[nodiscard]] const Cursor& cursor() const { return cursor_; }
    void skip_to_end();

private:
    void advance();
    void scan_word();
    [[nodiscard]] std::size_t bar_length() const;
    bool scan_sign();

    Cursor cursor_;
    LineMode mode_;
    text::Sink* sink_;
    Token token_;
};

}  // namespace relead::syntax
