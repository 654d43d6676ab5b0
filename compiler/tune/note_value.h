// Notated values and the times that they last.
#pragma once

#include <optional>
#include <vector>

#include "tune/bar.h"

namespace relead::tune {

/// Length without tuplets: 4 with one dot = 3/8.
[[nodiscard]] Time time_of(NoteValue value);
/// The single value, with at most two dots, of exactly this length.
[[nodiscard]] std::optional<NoteValue> value_of(Time time);
/// The longest values first that add up to the time; empty when a thirty-second is too coarse.
[[nodiscard]] std::vector<NoteValue> values_of(Time time);
/// As it is written in a note row: "q.", "e".
[[nodiscard]] std::string duration_word(NoteValue value);
/// The factor of a note's tuplets: 2/3 inside a triplet.
[[nodiscard]] Fraction tuplet_factor(const NoteEvent& note);

}  // namespace relead::tune
