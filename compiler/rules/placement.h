// Whole replacements laid over the written chart, and the chart that results. A placement may be the
// work of several rules, one on what the other wrote.
#pragma once

#include <optional>
#include <vector>

#include "rules/chart.h"
#include "rules/match.h"

namespace relead::rules {

/// One rule that had a hand in a placement, with what it found and wrote.
struct Applied {
    int rule = 0;
    theory::NoteName tonic;                 ///< degree 1 of the rule's numerals
    std::vector<theory::Chord> old_chords;  ///< one that is written in several bars once
    std::vector<theory::Chord> new_chords;
    /// What stood around it when it was applied, where that is in the placement too.
    std::optional<theory::Chord> previous, next;
};

struct Placement {
    int begin = 0, end = 0;  ///< written spots [begin, end)
    std::vector<NewChord>
        chords;  ///< in their time from the start of the span; `kept_from` names a written spot
    std::vector<Applied> derivation;  ///< in the order in which the rules were applied
    std::vector<Need> left, right;    ///< what must stand around it
    [[nodiscard]] int depth() const { return static_cast<int>(derivation.size()); }
    /// What it is about: the last step that writes another root or bass, or makes a dominant. A colour on
    /// what an earlier step wrote is no idea of its own; where all steps colour, the last one.
    [[nodiscard]] const Applied& leading() const;
};

/// The same chords at the same times over the same written spots, however they came about.
[[nodiscard]] bool same_music(const Placement& a, const Placement& b);

/// A candidate on the written chart as a placement, with the chords around it that must stay. Nothing when
/// these are not there.
[[nodiscard]] std::optional<Placement> place(const Chart& written, const Candidate& candidate);

/// The chart with placements laid over it; they may not overlap and are in order. `written` may be a part cut
/// out of the written chart; placements count its spots.
struct MadeChart {
    Chart chart;
    std::vector<int> placement_of;  ///< per spot: index of its placement, -1 = as written
};
[[nodiscard]] MadeChart chart_with(const Chart& written, const std::vector<Placement>& placements);

/// A candidate found where `base` (a placement on the written chart) is laid into a part of it, together with
/// `base` as one placement. Nothing when a need inside it is not met.
[[nodiscard]] std::optional<Placement> stack(const Chart& written, const MadeChart& made,
                                             const Placement& base, const Candidate& candidate);

}  // namespace relead::rules
