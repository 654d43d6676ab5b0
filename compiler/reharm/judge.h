// Judging whole replacements: what forbids them, what speaks for and against them. A placement is judged
// by itself once; what depends on its neighbours in a version is asked pair by pair.
#pragma once

#include <vector>

#include "reharm/plan_binding.h"
#include "reharm/verdict.h"
#include "rules/placement.h"

namespace relead::reharm {

/// All that judging needs to know. The parts must outlive it.
struct Situation {
    const tune::Tune& tune;
    const rules::Chart& chart;  ///< written
    const rules::RuleSet& rules;
    const BoundPlan& plan;
};

/// A placement and what was found about it, whatever stands around it.
struct Judged {
    rules::Placement placement;
    Verdict verdict;  ///< neighbours not yet counted
    int outside = 1;  ///< the furthest of its rules
    int touched = 0;  ///< written chords not wholly played as written
};

/// Melody tensions are added to the symbols, then the placement is judged.
[[nodiscard]] Judged judge(const Situation& situation, rules::Placement placement);

/// Refusals and costs of the pair: last chord of a placement (null = written) into what follows it.
void judge_arrival(const Situation& situation, const Judged& judged, const theory::Chord& next,
                   Verdict& verdict);
/// Costs of the pair: what stands before into the first chord of a placement.
void judge_departure(const Situation& situation, const Judged& judged, const theory::Chord& previous,
                     Verdict& verdict);
/// Both, against the chords that the written chart has there; every successor counts.
void judge_in_written(const Situation& situation, Judged& judged);

}  // namespace relead::reharm
