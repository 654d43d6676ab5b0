// The harmonic tree: for every chord the later chord that it depends on. Spans are headed by their last
// chord; of all bracketings the one with the greatest weight (grammar/tree-weights.txt) is taken, exactly,
// by dynamic programming over spans in a third of a cube of the number of chords.
#pragma once

#include <vector>

#include "analysis/arcs.h"
#include "analysis/heard.h"
#include "analysis/tree_weights.h"

namespace relead::analysis {

struct Tree {
    /// Per chord the index of its head; the number of chords stands for the top of the next chorus; -1 for
    /// the last chord of a tree without such an end.
    std::vector<int> heads;
    bool exact = true;
    int window = 0;  ///< greatest span that was looked at, when not exact
};

/// `open_end`: the tune leads on into the next chorus; else its last chord is the root.
/// Above `exact_limit` chords only spans of at most `window` are looked at beside the main line.
/// `top`: the first chord of the next chorus, null for the first of `chords`.
[[nodiscard]] Tree decode_tree(const std::vector<TreeChord>& chords, bool open_end,
                               const TreeWeights& weights = tree_weights(), int exact_limit = 320,
                               int window = 128, const Heard* top = nullptr);

}  // namespace relead::analysis
