// A plan of the tune and the user's wishes, bound to rules: which rules may be used, what is held, what
// is asked for and what is refused.
#pragma once

#include <optional>
#include <vector>

#include <relead/outcome.h>

#include "reharm/reharmonise.h"
#include "rules/match.h"
#include "rules/rule.h"
#include "tune/plan.h"

namespace relead::reharm {

struct BoundPlan {
    tune::Plan plan;  ///< wishes included
    rules::Audience audience = rules::Audience::band;
    int ceiling = 3;  ///< no change goes further outside
    std::optional<int> wished_level;
    std::vector<bool> usable;  ///< per rule
    int depth = 2;
    double shortest_seconds = 0.5;  ///< a new chord lasts at least so long
    bool melody_refuses = true;
    struct Take {
        std::vector<int> rules;
        tune::Address at;
    };
    std::vector<Take> take;
    struct Never {
        std::vector<int> rules;  ///< empty = any change
        tune::Address at;
    };
    std::vector<Never> never;

    [[nodiscard]] bool uses(int rule) const { return usable[static_cast<std::size_t>(rule)]; }
};

/// The plan `wish` names (or the tune's first, or a plain one). Unknown rule names are errors with the
/// nearest name as the fix; the value is absent only when the plan is unknown.
[[nodiscard]] Outcome<BoundPlan> bind_plan(const tune::Tune& tune, const rules::RuleSet& rules,
                                           const Wish& wish);

/// The written chart as it is heard where the plan is played: on solos nobody plays the melody.
[[nodiscard]] rules::Chart chart_for(const BoundPlan& plan, const tune::Tune& tune,
                                     const analysis::Analysis& analysis);

}  // namespace relead::reharm
