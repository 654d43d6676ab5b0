// Judging whole replacements: what forbids them, what speaks for and against them. A placement is judged
// by itself once; what depends on its neighbours in a version is asked pair by pair.
#pragma once

#include <vector>

#include "reharm/plan_binding.h"
#include "reharm/symbol_habits.h"
#include "reharm/verdict.h"
#include "rules/placement.h"

namespace relead::reharm {

/// All that judging needs to know. The parts must outlive it.
struct Situation {
    const tune::Tune& tune;
    const rules::Chart& chart;  ///< written
    const rules::RuleSet& rules;
    const BoundPlan& plan;
    SymbolHabits symbols = SymbolHabits(tune);  ///< new chords are written as the tune writes its own
};

/// A placement and what was found about it, whatever stands around it.
struct Judged {
    rules::Placement placement;
    Verdict verdict;      ///< neighbours not yet counted
    int outside = 1;      ///< the furthest of its rules
    int touched = 0;      ///< written chords not wholly played as written
    Beats touched_beats;  ///< how long these are
};

/// How much is asked about a placement that is refused: its first refusal, or every one.
enum class Reasons { first, all };

/// Melody tensions are added to the symbols, then the placement is judged. Nothing else is worked out about
/// one that is refused for its `first` reason.
[[nodiscard]] Judged judge(const Situation& situation, rules::Placement placement, Reasons reasons);

/// Adds the boundaries with the chords of a chart: spots [first, last] of `chart` are the placement's own.
/// Every neighbour can refuse, the first one is charged and described.
void judge_boundaries(const Situation& situation, const rules::Chart& chart, int first, int last,
                      Judged& judged);

}  // namespace relead::reharm
