// One row of a row group: its pickup, bar signs and cells. What stands in a cell is read by the functions
// of parse_cell.h.
#pragma once

#include <optional>

#include "syntax/line_parser.h"

namespace relead::syntax {

/// What must be known of a section while its rows are read, and what rows leave behind.
struct RowContext {
    std::string section;
    int first_bar = 1;                ///< number of the row's first bar
    bool first_group = true;          ///< only there a pickup may stand
    std::optional<Span> open_ending;  ///< `[1` that waits for its `]`; runs through groups
    int bars_left = 0;                ///< of the limit
    const Limits* limits = nullptr;
};

/// Reads the rest of a row's line. Too many bars for the limit: the row is cut there, with a diagnostic.
[[nodiscard]] Row parse_row(RowKind kind, LineParser& line, RowContext& context);

/// A:7, or the pickup's place.
[[nodiscard]] Place place_of(const RowContext& context, int bar);

}  // namespace relead::syntax
