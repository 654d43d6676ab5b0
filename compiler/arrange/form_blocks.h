// The shortest way to write a run of units with repeats and endings.
#pragma once

#include <span>
#include <vector>

#include "arrange/form_units.h"

namespace relead::arrange {

/// A bracket: which passes play it, and its bars.
struct BlockEnding {
    int first_pass = 1;
    int last_pass = 1;
    std::vector<int> bars;
};

/// `width` units written once and played `passes` times; one plain unit when passes == 1.
struct FormBlock {
    std::size_t first = 0;  ///< index of its first unit
    std::size_t width = 1;
    int passes = 1;
    std::size_t common = 0;            ///< bars of the last unit that all passes share
    std::vector<BlockEnding> endings;  ///< empty: all passes are equal
    [[nodiscard]] std::size_t units() const { return width * static_cast<std::size_t>(passes); }
};

/// Blocks that cover all units in order with the fewest written bars; ties go to fewer signs.
[[nodiscard]] std::vector<FormBlock> form_blocks(std::span<const FormUnit> units);
/// Bars that a block puts on paper.
[[nodiscard]] std::size_t written_bars(std::span<const FormUnit> units, const FormBlock& block);

}  // namespace relead::arrange
