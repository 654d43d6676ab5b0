// The weights of the harmonic tree, from grammar/tree-weights.txt, ready for the decoder.
#pragma once

#include <array>
#include <vector>

#include "analysis/heard.h"

namespace relead::analysis {

/// What a chord is in the home key, as far as the tree asks.
enum class Role : std::uint8_t { tonic, dominant, other };

struct TreeWeights {
    std::vector<int> relation;  ///< by row of the relations; the last entry is "same chord"
    std::array<int, 3> repeats{};
    int repeats_next = 0, repeats_gap = 0;
    int next_expected = 0, next_other = 0, gap_expected = 0, gap_other = 0;
    std::array<std::array<int, 3>, 3> roles{};  ///< from, to
    int neighbour = 0;
    int passes_resolution = 0, into_run = 0, late_in_run = 0;
    std::array<std::array<int, 3>, 2> run{};       ///< at once or not; place in its pair, two, four bars
    int down_next = 0, down_line = 0;              ///< half step down at once; as part of a line
    std::array<std::array<int, 2>, 2> to_tonic{};  ///< at once or not; expected or not
    std::array<std::array<int, 2>, 3> leaves{};    ///< a tonic's stand in its eight bars; at once or not
    /// The same: how long the tonic's run lasts (below one bar, two, four, more); at once or not.
    std::array<std::array<int, 2>, 4> lasts{};
    std::array<int, 2> afar{};  ///< to the last of a run in its eight bars or not
    /// From afar: boundary crossed (none, eight, sixteen bars); what is led to (tonic, dominant, other).
    std::array<std::array<int, 3>, 3> crosses{};
    /// From afar: within four bars, within eight, further; what is led to.
    std::array<std::array<int, 3>, 3> phrase{};
    std::array<std::array<int, 3>, 6> place{};  ///< level, role
    int end_tonic = 0, end_home_dominant = 0, end_dominant = 0, end_other = 0;
    int end_expected = 0, end_step = 0;
    /// By difference of levels from -3 to 3.
    std::array<int, 7> inside_left{}, inside_right{}, before{}, after{};
};

[[nodiscard]] const TreeWeights& tree_weights();

}  // namespace relead::analysis
