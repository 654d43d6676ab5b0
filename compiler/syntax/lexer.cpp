#include "syntax/lexer.h"

#include "syntax/keywords.h"
#include "syntax/tune_tree.h"

namespace relead::syntax {
namespace {

struct RowWord {
    std::string_view word;
    LineMode mode;
};
constexpr RowWord row_words[] = {
#define RELEAD_ROW(name, word, mode) {word, LineMode::mode},
#include "syntax/rows.def"
#undef RELEAD_ROW
};

/// Bar signs, the longest first.
constexpr std::string_view bar_signs[] = {":||:", "||:", ":||", ":|:", "|:", ":|", "||", "|"};

/// Length of a chord word: it ends at white space, a bar sign or a bracket outside parentheses. A
/// parenthesis that is not closed within `reach` bytes, or before the bar, does not hold it together.
std::size_t chord_word_length(std::string_view text) {
    constexpr std::size_t reach = 60;
    std::size_t depth_end = 0;  // inside parentheses up to here
    for (std::size_t i = 0; i < text.size(); i += character_length(text, i)) {
        if (i < depth_end) continue;
        const char c = text[i];
        if (blank_length(text, i) > 0 || c == '|' || c == '[' || c == ']' || c == '"') return i;
        if (c == ':' && i + 1 < text.size() && text[i + 1] == '|') return i;
        if (c != '(') continue;
        const auto close = text.substr(i, reach).find_first_of(")|");
        if (close != std::string_view::npos && text[i + close] == ')') depth_end = i + close;
    }
    return text.size();
}

}  // namespace

BarSign read_bar_sign(std::string_view raw) {
    BarSign sign;
    const auto star = raw.find('*');
    if (star != std::string_view::npos) {
        sign.times = raw.substr(star + 1);
        raw = raw.substr(0, star);
    }
    sign.repeat_ends = raw.front() == ':';
    sign.repeat_begins = raw.size() > 1 && raw.back() == ':';
    sign.is_double = raw == "||" || raw == "||:";
    return sign;
}

LineMode line_mode(std::string_view word, Block block) {
    if (block == Block::plan) return LineMode::plain;
    for (const auto& row : row_words)
        if (same_word(row.word, word)) return row.mode;
    return LineMode::plain;
}

Token Lexer::next() {
    Token token = std::move(token_);
    advance();
    return token;
}

void Lexer::skip_to_end() {
    cursor_.skip_to_end();
    advance();
}

std::size_t Lexer::bar_length() const {
    const auto rest = cursor_.rest();
    if (rest.empty() || (rest.front() != '|' && rest.front() != ':')) return 0;
    if (mode_ == LineMode::lyric_row) return rest.front() == ':' ? 0 : 1;
    for (const auto sign : bar_signs)
        if (rest.substr(0, sign.size()) == sign) {
            std::size_t length = sign.size();
            if (sign.front() == ':' && rest.substr(length, 1) == "*") {
                ++length;
                while (length < rest.size() && rest[length] >= '0' && rest[length] <= '9') ++length;
            }
            return length;
        }
    return 0;
}

/// Signs of a single character, and those that begin with a bracket. False: a word stands here.
bool Lexer::scan_sign() {
    using Kind = Token::Kind;
    if (const auto length = bar_length()) {
        cursor_.advance(length);
        token_.kind = Kind::bar;
        return true;
    }
    const char c = cursor_.peek();
    const bool rows = mode_ == LineMode::chord_row || mode_ == LineMode::note_row;
    if (mode_ == LineMode::plain && cursor_.accept(",")) {
        token_.kind = Kind::comma;
    } else if (rows && c == '[') {
        cursor_.advance(1);
        cursor_.advance(cursor_.peek_word("|[](){}").size());
        token_.kind = Kind::open;
    } else if (rows && cursor_.accept("]")) {
        token_.kind = Kind::close;
    } else if (mode_ == LineMode::note_row && cursor_.accept("(")) {
        token_.kind = Kind::slur_begin;
    } else if (mode_ == LineMode::note_row && cursor_.accept(")")) {
        token_.kind = Kind::slur_end;
    } else if (mode_ == LineMode::note_row && c == '{') {
        while (!cursor_.at_end() && cursor_.peek() != '}' && cursor_.peek() != '|') cursor_.advance(1);
        (void)cursor_.accept("}");
        token_.kind = Kind::grace;
    } else {
        return false;
    }
    return true;
}

void Lexer::scan_word() {
    token_.kind = Token::Kind::word;
    switch (mode_) {
        case LineMode::plain:
            cursor_.advance(cursor_.peek_word(",|").size());
            break;
        case LineMode::chord_row:
            cursor_.advance(chord_word_length(cursor_.rest()));
            break;
        case LineMode::note_row:
            cursor_.advance(cursor_.peek_word("|[](){}").size());
            break;
        case LineMode::lyric_row:
            while (!cursor_.at_end() && !cursor_.at_blank() && cursor_.peek() != '|' && cursor_.peek() != '"')
                cursor_.advance(character_length(cursor_.rest(), 0));
            break;
    }
}

void Lexer::advance() {
    const auto before = cursor_.position();
    cursor_.skip_blanks();
    token_ = {};
    token_.blank_before = cursor_.position() != before || before == 0;
    const auto begin = cursor_.position();
    const auto rest = cursor_.rest();
    const bool quotes = mode_ == LineMode::lyric_row ? cursor_.peek() == '"' : cursor_.at_quote();
    if (cursor_.at_end()) {
        token_.kind = Token::Kind::end;
    } else if (quotes) {
        token_.kind = Token::Kind::quoted;
        token_.text = cursor_.quoted(*sink_).text;
    } else if (!scan_sign()) {
        scan_word();
        if (cursor_.position() == begin) cursor_.advance(character_length(rest, 0));  // a stray sign
    }
    token_.raw = rest.substr(0, cursor_.position() - begin);
    token_.span = cursor_.span_from(begin);
}

}  // namespace relead::syntax
