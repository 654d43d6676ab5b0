// The times of a note cell's words: running durations, dots and tuplets worked out.
#pragma once

#include <optional>
#include <vector>

#include "syntax/tune_tree.h"
#include "tune/bar.h"
#include "tune/spot.h"

namespace relead::tune {

struct TimedNote {
    const syntax::NoteWord* word = nullptr;
    NoteValue value;
    std::optional<Tuplet> tuplet;
    std::optional<Tuplet> outer_tuplet;
    Time at;
    Time length;
};

/// A tuplet whose notes do not fill it.
struct UnfilledTuplet {
    Span span;
    int actual = 3;
    int normal = 2;
    NoteValue value;  ///< of its first note
    Fraction held;    ///< in these values
};

struct TimedCell {
    std::vector<TimedNote> notes;
    std::vector<UnfilledTuplet> unfilled;
    Time total;
    NoteValue running;  ///< duration that holds on after the cell
};

[[nodiscard]] TimedCell time_notes(const syntax::Cell& cell, NoteValue running);

}  // namespace relead::tune
