// What stands between two bar signs, by kind of row. Each function reads tokens up to the next bar sign,
// bracket of an ending or line end, and complains at `place`.
#pragma once

#include "syntax/line_parser.h"

namespace relead::syntax {

struct CellContext {
    RowKind kind = RowKind::changes;
    Place place;
    const Limits* limits = nullptr;
    /// Endings copied into a row that cannot have them: read over, so that one mistake is told once.
    bool* ending_signs = nullptr;
};

void parse_chord_cell(LineParser& line, const CellContext& context, Cell& cell);
void parse_note_cell(LineParser& line, const CellContext& context, Cell& cell);
void parse_lyric_cell(LineParser& line, const CellContext& context, Cell& cell);
void parse_mark_cell(LineParser& line, const CellContext& context, Cell& cell);

[[nodiscard]] bool is_chord_row(RowKind kind);
/// In a note row at a `[`: true for a tuplet, also for `[3 C5 D5 E5]` that forgot its ratio; false for the
/// `[1` of an ending copied from the changes row (`ending_signs`: one was seen in the row already).
[[nodiscard]] bool begins_tuplet(const LineParser& line, bool ending_signs);
/// True where a cell ends.
[[nodiscard]] bool at_cell_end(const LineParser& line, RowKind kind);

}  // namespace relead::syntax
