// Whole replacements laid over the written chart, and the chart that results. A placement may be the
// work of several rules, one on what the other wrote.
#pragma once

#include <vector>

#include "rules/chart.h"
#include "rules/match.h"

namespace relead::rules {

/// One rule that had a hand in a placement, with what it found and wrote.
struct Applied {
    int rule = 0;
    Justification why;
    std::vector<theory::Chord> old_chords;
    std::vector<theory::Chord> new_chords;
};

struct Placement {
    int begin = 0, end = 0;  ///< written spots [begin, end)
    std::vector<NewChord>
        chords;  ///< in their time from the start of the span; `kept_from` names a written spot
    std::vector<Applied> derivation;  ///< in the order in which the rules were applied
    [[nodiscard]] int depth() const { return static_cast<int>(derivation.size()); }
};

/// A candidate on the written chart as a placement.
[[nodiscard]] Placement place(const Chart& written, const Candidate& candidate);

/// The chart with placements laid over it; they may not overlap and are in order.
struct MadeChart {
    Chart chart;
    std::vector<int> placement_of;  ///< per spot: index of its placement, -1 = as written
};
[[nodiscard]] MadeChart chart_with(const Chart& written, const std::vector<Placement>& placements);

/// A candidate found on a made chart, together with the placements that it touches, as one placement.
[[nodiscard]] Placement stack(const Chart& written, const MadeChart& made,
                              const std::vector<Placement>& placements, const Candidate& candidate);

}  // namespace relead::rules
