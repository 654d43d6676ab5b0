// Rhythms written as strokes, "X--x...>": one bar in equal steps, as in grammar/comping-patterns.txt and
// grammar/drum-patterns.txt; and the hits that a tune writes, as the same strokes.
#pragma once

#include <string_view>
#include <vector>

#include "tune/bar.h"

namespace relead::arrange {

struct Stroke {
    Time at;
    Time length;
    bool loud = false;
    bool takes_next = false;  ///< > : the chord that comes next, held into it
    friend bool operator==(const Stroke&, const Stroke&) = default;
};

/// X and > are held through the dashes after them, x is half a step long (drums: one step of its own).
[[nodiscard]] std::vector<Stroke> read_strokes(std::string_view strokes, Time bar_length);

/// The hits of a bar from its start: ties joined, short ones half an eighth at most.
[[nodiscard]] std::vector<Stroke> strokes_of_hits(const std::vector<tune::HitEvent>& hits,
                                                  bool tied_from_before);

/// Does the last hit go on over the bar line?
[[nodiscard]] bool ties_over(const std::vector<tune::HitEvent>& hits);

}  // namespace relead::arrange
