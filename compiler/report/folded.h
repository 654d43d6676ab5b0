// A comparison folded as on paper: sections that are played alike in every row are shown once.
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "report/comparison.h"

namespace relead::report {

/// Playings of one section that agree in all rows, bar by bar.
struct FoldedSection {
    std::string section;
    std::vector<int> playings;      ///< 1-based
    bool all_playings = true;       ///< the section is not played otherwise
    std::vector<std::size_t> bars;  ///< into Comparison::bars, by printed number; a bar of each ending once
    /// Bars of the chorus that each of `playings` takes, counted from 1 without pickups.
    std::vector<std::pair<int, int>> chorus_bars;
};

/// In the order of first playing.
[[nodiscard]] std::vector<FoldedSection> fold(const Comparison& comparison);

/// "A (bars 1-8, also 9-16 and 25-32)", "A, time 2 (bars 9-16)".
[[nodiscard]] std::string heading(const FoldedSection& section);

}  // namespace relead::report
