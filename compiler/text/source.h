// A source text: its bytes, its lines, and the way from a byte offset to a line and column.
// Positions everywhere are byte offsets; lines and columns are computed only when shown.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include <relead/outcome.h>

#include "text/limits.h"

namespace relead::text {

struct LineColumn {
    int line = 1;    ///< 1-based
    int column = 1;  ///< 1-based, in user-perceived characters (grapheme clusters)
};

/// Immutable and cheap to copy. CRLF and lone CR end a line as LF does; a BOM is skipped.
class Source {
public:
    /// `name` is shown in messages (a path or "-"). The bytes must be valid UTF-8 (see read_source).
    Source(std::string name, std::string bytes, std::uint32_t index = 0);

    [[nodiscard]] const std::string& name() const;
    [[nodiscard]] std::string_view bytes() const;
    [[nodiscard]] std::uint32_t index() const;  ///< goes into Span::source
    [[nodiscard]] int line_count() const;
    /// Text of a 1-based line without its line end.
    [[nodiscard]] std::string_view line(int number) const;
    [[nodiscard]] std::uint32_t line_begin(int number) const;
    [[nodiscard]] int line_at(std::uint32_t offset) const;
    [[nodiscard]] LineColumn locate(std::uint32_t offset) const;
    [[nodiscard]] std::string_view slice(Span span) const;

private:
    struct Data;
    std::shared_ptr<const Data> data_;
};

/// Strict UTF-8, no NUL bytes, within the limits; the first bad byte is located. The value is
/// absent when the text cannot be used at all.
[[nodiscard]] Outcome<Source> read_source(std::string name, std::string bytes, const Limits& limits = {},
                                          std::uint32_t index = 0);

/// Canonical composition (NFC), for comparing names and titles.
[[nodiscard]] std::string nfc(std::string_view utf8);
[[nodiscard]] bool same_text(std::string_view a, std::string_view b);
/// Columns that the text takes in a terminal: wide characters 2, combining marks 0.
[[nodiscard]] int display_width(std::string_view utf8);
/// Number of user-perceived characters.
[[nodiscard]] int grapheme_count(std::string_view utf8);

}  // namespace relead::text
