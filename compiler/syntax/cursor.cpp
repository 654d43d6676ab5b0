#include "syntax/cursor.h"

#include <limits>

namespace relead::syntax {
namespace {

constexpr std::string_view left_quote = "\xE2\x80\x9C";   // “
constexpr std::string_view right_quote = "\xE2\x80\x9D";  // ”
constexpr std::string_view low_quote = "\xE2\x80\x9E";    // „

bool starts(std::string_view text, std::size_t position, std::string_view with) {
    return text.substr(position).substr(0, with.size()) == with;
}

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

}  // namespace

std::size_t blank_length(std::string_view text, std::size_t position) {
    if (position >= text.size()) return 0;
    const auto byte = static_cast<unsigned char>(text[position]);
    if (byte < 0x80) return byte == ' ' || (byte >= '\t' && byte <= '\r') ? 1 : 0;
    if (starts(text, position, "\xC2\xA0") || starts(text, position, "\xC2\x85")) return 2;
    if (byte < 0xE2 || position + 2 >= text.size()) return 0;
    const auto second = static_cast<unsigned char>(text[position + 1]);
    const auto third = static_cast<unsigned char>(text[position + 2]);
    if (byte == 0xE2 && second == 0x80)  // U+2000..200B, line and paragraph separator, U+202F
        return (third >= 0x80 && third <= 0x8B) || third == 0xA8 || third == 0xA9 || third == 0xAF ? 3 : 0;
    if (byte == 0xE2 && second == 0x81 && third == 0x9F) return 3;  // U+205F
    if (byte == 0xE3 && second == 0x80 && third == 0x80) return 3;  // U+3000
    if (byte == 0xEF && second == 0xBB && third == 0xBF) return 3;  // U+FEFF
    return 0;
}

std::size_t character_length(std::string_view text, std::size_t position) {
    const auto byte = static_cast<unsigned char>(text[position]);
    const std::size_t length = byte < 0xC0 ? 1 : byte < 0xE0 ? 2 : byte < 0xF0 ? 3 : 4;
    return length < text.size() - position ? length : text.size() - position;
}

std::string_view trimmed(std::string_view text) {
    std::size_t begin = 0;
    while (const auto length = blank_length(text, begin)) begin += length;
    text.remove_prefix(begin);
    for (bool more = true; more && !text.empty();) {
        more = false;
        for (std::size_t length = 1; length <= 3 && length <= text.size(); ++length) {
            if (blank_length(text, text.size() - length) != length) continue;
            text.remove_suffix(length);
            more = true;
            break;
        }
    }
    return text;
}

bool Cursor::at_quote() const {
    return peek() == '"' || starts(text_, position_, left_quote) || starts(text_, position_, right_quote) ||
           starts(text_, position_, low_quote);
}

void Cursor::skip_blanks() {
    while (const auto length = blank_length(text_, position_)) position_ += length;
}

bool Cursor::accept(std::string_view sign) {
    if (!starts(text_, position_, sign)) return false;
    position_ += sign.size();
    return true;
}

std::string_view Cursor::peek_word(std::string_view stops) const {
    Cursor copy = *this;
    while (!copy.at_end() && !copy.at_blank() && !copy.at_quote() &&
           stops.find(copy.peek()) == std::string_view::npos)
        copy.position_ += character_length(copy.text_, copy.position_);
    return text_.substr(position_, copy.position_ - position_);
}

Words Cursor::word(std::string_view stops) {
    const auto begin = position_;
    const auto text = peek_word(stops);
    position_ += text.size();
    return {std::string(text), span_from(begin)};
}

Words Cursor::quoted(text::Sink& sink) {
    const auto begin = position_;
    const bool straight = accept("\"");
    if (!straight) position_ += left_quote.size();
    Words words;
    bool closed = false;
    while (!at_end() && !closed) {
        const auto at = position_;
        if (accept("\"") || (!straight && (accept(right_quote) || accept(left_quote)))) {
            closed = true;
        } else if (accept("\\")) {
            if (peek() == '"' || peek() == '\\') {
                words.text += peek();
                ++position_;
            } else {
                words.text += '\\';
                sink.emit(text::Code::escape_unknown, span_from(at),
                          "Inside quotes a backslash stands only before \" and before another backslash.")
                    .fix(span_from(at), "\\\\", "write the backslash twice");
            }
        } else {
            words.text += text_[position_++];
        }
    }
    words.span = span_from(begin);
    if (!closed)
        sink.emit(text::Code::quote_unclosed, words.span, "This quoted text has no closing \" on its line.")
            .fix({words.span.source, words.span.end, words.span.end}, "\"",
                 "close the quotes at the end of the line");
    else if (!straight)
        sink.emit(text::Code::quote_curly, words.span,
                  "These are typographic quotes; texts stand in straight ones.")
            .fix(words.span, quote(words.text), "use straight quotes");
    return words;
}

Span Cursor::here() const {
    const auto end = at_end() ? position_ : position_ + character_length(text_, position_);
    return {source_, begin_ + static_cast<std::uint32_t>(position_),
            begin_ + static_cast<std::uint32_t>(end)};
}

std::optional<int> parse_number(std::string_view text) {
    if (text.empty() || text.size() > 9) return std::nullopt;
    int value = 0;
    for (const char c : text) {
        if (!is_digit(c)) return std::nullopt;
        value = value * 10 + (c - '0');
    }
    return value;
}

std::optional<Fraction> parse_fraction(std::string_view text) {
    const auto split = text.find_first_of("/.");
    if (split == std::string_view::npos) {
        const auto whole = parse_number(text);
        return whole ? std::optional<Fraction>(*whole) : std::nullopt;
    }
    const auto left = parse_number(text.substr(0, split));
    const auto right_text = text.substr(split + 1);
    const auto right = parse_number(right_text);
    if (!left || !right) return std::nullopt;
    if (text[split] == '/')
        return *right == 0 ? std::nullopt : std::optional<Fraction>(Fraction(*left, *right));
    std::int64_t scale = 1;
    for (std::size_t i = 0; i < right_text.size(); ++i) scale *= 10;
    return Fraction(*left) + Fraction(*right, scale);
}

std::string quote(std::string_view text) {
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') quoted += '\\';
        quoted += c;
    }
    return quoted + '"';
}

}  // namespace relead::syntax
