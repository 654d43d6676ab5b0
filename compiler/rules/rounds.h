// Rounds: units of a section that are written alike one after the other, as a vamp or as a sequence. Whoever
// changes one of them is heard to have changed it: the others are the measure.
#pragma once

#include <vector>

#include "rules/chart.h"

namespace relead::rules {

/// A run of at least three units of 1, 2 or 4 bars, each with the chords of the one before it: in the same
/// rhythm, of the same class, over basses that lie the same, all of it moved by one interval. Where each is
/// one chord for one bar there are at least four (common practice, no source).
struct Rounds {
    int bars = 1;             ///< of one round
    int interval = 0;         ///< semitones up from one round to the next; 0 = a vamp, else a sequence
    std::vector<int> starts;  ///< the first spot of each round, then the spot after the last round

    [[nodiscard]] int size() const { return static_cast<int>(starts.size()) - 1; }
    [[nodiscard]] int begin(int round) const { return starts[static_cast<std::size_t>(round)]; }
    [[nodiscard]] int end(int round) const { return begin(round + 1); }
    /// Semitones up from the first round.
    [[nodiscard]] int moved(int round) const { return interval * round % 12; }
};

/// All runs of the chart in the order of the text, none over another one or over the end of its section,
/// over a repeat or into an ending. The longest is taken first, of equally long ones that of the shortest
/// unit, then the one whose units begin where the section's own do. A chord that only stays is no vamp; N.C.
/// stands in no round.
[[nodiscard]] std::vector<Rounds> find_rounds(const Chart& chart);

}  // namespace relead::rules
