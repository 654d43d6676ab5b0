// A source text: its bytes, its lines, and the way from a byte offset to a line and column.
// Positions everywhere are byte offsets; lines and columns are computed only when shown.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
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

/// Immutable, cheap to copy, safe to share between threads. CRLF and lone CR end a line as LF does
/// (vertical tab, form feed, U+0085, U+2028 and U+2029 do not). A BOM stays in bytes(), so that
/// offsets are those of the file, but belongs to no line: line 1 begins behind it. A line end at
/// the very end starts no further line; an empty text has one empty line.
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
    /// The column of an offset inside a cluster is that of the cluster. Offsets past the end count
    /// as the end. Cheap even in very long lines (checkpoints are made at the first use).
    [[nodiscard]] LineColumn locate(std::uint32_t offset) const;
    /// The text of a span, clipped to the source.
    [[nodiscard]] std::string_view slice(Span span) const;

private:
    struct Data;
    std::shared_ptr<const Data> data_;
};

/// Strict UTF-8, no NUL bytes, within the limits; the first bad byte is located. The value is
/// absent when the text cannot be used at all.
[[nodiscard]] Outcome<Source> read_source(std::string name, std::string bytes, const Limits& limits = {},
                                          std::uint32_t index = 0);

/// For showing what read_source said about a text that it refused: the same bytes with '?' for
/// each byte that is not UTF-8, so that offsets, lines and carets stay right. Cut at the limit.
[[nodiscard]] Source readable_source(std::string name, std::string bytes, const Limits& limits = {},
                                     std::uint32_t index = 0);
/// Fills line and column of each place from its span.
void fill_lines(Diagnostics& diagnostics, std::span<const Source> sources);
/// The source that a span means: the one whose index() is span.source; null when there is none.
[[nodiscard]] const Source* find_source(std::span<const Source> sources, std::uint32_t index);

/// Canonical composition (NFC), for comparing names and titles.
[[nodiscard]] std::string nfc(std::string_view utf8);
[[nodiscard]] bool same_text(std::string_view a, std::string_view b);
/// Columns that the text takes in a terminal: wide characters 2, combining marks 0, controls 0.
[[nodiscard]] int display_width(std::string_view utf8);
/// Number of user-perceived characters.
[[nodiscard]] int grapheme_count(std::string_view utf8);

}  // namespace relead::text
