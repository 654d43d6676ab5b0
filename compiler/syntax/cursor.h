// Reading a line word by word: white space, words, quoted texts, numbers. Shared by the parsers of
// tunes and of rules. Lines and comments are line_feed.h, tables of keywords keywords.h.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "syntax/words.h"
#include "text/diagnose.h"

namespace relead::syntax {

/// Bytes of the white-space character at `position`: 0 when there is none. Tabs, no-break and
/// typographic spaces count as white space; line ends never occur inside a line.
[[nodiscard]] std::size_t blank_length(std::string_view text, std::size_t position);
/// Bytes of the UTF-8 character at `position` (1 for a stray byte).
[[nodiscard]] std::size_t character_length(std::string_view text, std::size_t position);
/// Without white space at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// A place in a line that moves to the right. Cheap to copy: a copy is a bookmark.
class Cursor {
public:
    /// `text` is the line's body; `begin` its offset in the source text number `source`.
    Cursor(std::string_view text, std::uint32_t source, std::uint32_t begin)
        : text_(text), source_(source), begin_(begin) {}

    [[nodiscard]] bool at_end() const { return position_ >= text_.size(); }
    [[nodiscard]] std::size_t position() const { return position_; }
    /// The byte here, or `ahead` bytes further; '\0' past the end.
    [[nodiscard]] char peek(std::size_t ahead = 0) const {
        return position_ + ahead < text_.size() ? text_[position_ + ahead] : '\0';
    }
    [[nodiscard]] std::string_view rest() const { return text_.substr(position_); }
    [[nodiscard]] bool at_blank() const { return blank_length(text_, position_) > 0; }
    /// True at a straight or typographic opening quote.
    [[nodiscard]] bool at_quote() const;

    void advance(std::size_t bytes) {
        position_ = bytes > text_.size() - position_ ? text_.size() : position_ + bytes;
    }
    void skip_blanks();
    void skip_to_end() { position_ = text_.size(); }
    /// Moves past `sign` when it stands here.
    bool accept(std::string_view sign);
    /// Reads up to white space, a quote or one of the ASCII characters in `stops`; may be empty.
    [[nodiscard]] Words word(std::string_view stops = {});
    /// The word that `word` would read, without moving.
    [[nodiscard]] std::string_view peek_word(std::string_view stops = {}) const;
    /// Reads a quoted text; `\"` and `\\` are the escapes. Diagnoses a missing end (the text then runs
    /// to the end of the line), an unknown escape and typographic quotes. Precondition: at_quote().
    [[nodiscard]] Words quoted(text::Sink& sink);

    /// From a byte position in the line to here.
    [[nodiscard]] Span span_from(std::size_t position) const {
        return {source_, begin_ + static_cast<std::uint32_t>(position),
                begin_ + static_cast<std::uint32_t>(position_)};
    }
    /// The character here (empty at the end of the line).
    [[nodiscard]] Span here() const;

private:
    std::string_view text_;
    std::uint32_t source_ = 0;
    std::uint32_t begin_ = 0;
    std::size_t position_ = 0;
};

/// A whole number without sign; nothing above 1 000 000 000 or when other characters stand there.
[[nodiscard]] std::optional<int> parse_number(std::string_view text);
/// "3", "3/2" or "1.5" as an exact fraction, not negative; nothing when it is none.
[[nodiscard]] std::optional<Fraction> parse_fraction(std::string_view text);
/// The text in straight quotes with its escapes.
[[nodiscard]] std::string quote(std::string_view text);

}  // namespace relead::syntax
