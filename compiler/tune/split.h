// Sharing the beats of a bar among its chords.
#pragma once

#include <optional>
#include <vector>

#include "syntax/tune_tree.h"
#include "tune/spot.h"

namespace relead::tune {

/// Beats of each of `count` chords when `beats` can be shared without a doubt: each gets a whole
/// number, or a whole number of them share a beat, or they stand on the groups of the meter.
[[nodiscard]] std::optional<std::vector<Beats>> share_evenly(Beats beats, int count,
                                                             const std::vector<int>& groups);
/// The likeliest ways to share in whole beats (or equal parts of beats), at most four, longer first.
[[nodiscard]] std::vector<std::vector<Beats>> possible_shares(const Meter& meter, Beats beats, int count);
/// The cell's chords with these beats, as a musician would write them: "Dm7*2 G7".
[[nodiscard]] std::string write_shares(const std::vector<syntax::ChordWord>& words,
                                       const std::vector<Beats>& shares);

}  // namespace relead::tune
