// The boundary between two neighbours in a version: whether they may meet, and what it costs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reharm/guide_motion.h"
#include "reharm/verdict.h"
#include "rules/placement.h"
#include "rules/rule.h"

namespace relead::reharm {

/// One side of a boundary: the chord that stands there and the placement that put it there (null = as
/// written).
struct End {
    const theory::Chord* chord = nullptr;
    const rules::Placement* placement = nullptr;
};

struct PairVerdict {
    std::optional<Refusal> refusal;
    std::vector<CostTerm> left;   ///< charged to the change on the left: arrival, root motion
    std::vector<CostTerm> right;  ///< charged to the change on the right: the approach
    /// Sum of the terms but those that are `left_out`.
    [[nodiscard]] int cost(const std::vector<std::string_view>& left_out = {}) const;
};

/// A falling fifth, a step, or the same root.
[[nodiscard]] bool smooth_root_motion(const theory::Chord& from, const theory::Chord& to);

/// The same kind of chord on the same root and bass: where one of the two is new, a change that the author
/// wrote has gone.
[[nodiscard]] bool stands_still(const theory::Chord& from, const theory::Chord& to);

/// What to say of two chords that stand still: "F7 F13 would be one chord twice in a row."
[[nodiscard]] std::string twice_in_a_row(const theory::Chord& from, const theory::Chord& to);

/// `left` then `right`. Refused when a guide tone of a new chord would skip or leap on arrival, when the two
/// are one chord twice, or when a rule needs another chord there.
[[nodiscard]] PairVerdict judge_pair(const rules::RuleSet& rules, const End& left, const End& right);

/// Guide tones from `left` into `right`, along the threads of its rule when `left` is a new chord.
[[nodiscard]] std::vector<Motion> motions_over(const rules::RuleSet& rules, const End& left,
                                               const End& right);

}  // namespace relead::reharm
