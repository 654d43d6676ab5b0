// Note rows: melody, long, bass and hits of one bar.
#pragma once

#include <string>
#include <vector>

#include "syntax/tune_tree.h"
#include "text/diagnose.h"
#include "tune/bar.h"
#include "tune/spot.h"

namespace relead::tune {

/// What holds on from bar to bar in a row: the last duration that was written.
struct RowState {
    NoteValue running{4, 0};
};

/// Sum of a cell's lengths, tuplets counted; leaves `state` as it is.
[[nodiscard]] Time cell_length(const syntax::Cell& cell, RowState state);

/// Notes of a `melody` or `bass` cell with their times. A spot without length (pickup) takes any
/// sum; else a sum that is not the bar's is an error with the missing rests as its fix.
/// `row` is the row's word for messages.
[[nodiscard]] std::vector<NoteEvent> lower_notes(const syntax::Cell& cell, RowState& state, const Spot& spot,
                                                 std::string_view row, text::Sink& sink);
/// A `long` cell: without any duration letter its notes split the bar evenly.
[[nodiscard]] std::vector<NoteEvent> lower_longs(const syntax::Cell& cell, RowState& state, const Spot& spot,
                                                 text::Sink& sink);
[[nodiscard]] std::vector<HitEvent> lower_hits(const syntax::Cell& cell, RowState& state, const Spot& spot,
                                               text::Sink& sink);

}  // namespace relead::tune
