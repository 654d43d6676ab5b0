// What a rule writer would want to be told of a rule that reads well: that it can never fire, that another
// rule does the same already, or does it in more places.
#pragma once

#include <relead/outcome.h>

#include "rules/rule.h"
#include "text/limits.h"

namespace relead::rules {

/// Which rules of a set are looked at.
enum class LintScope { own, all };  ///< own: those that are not built in

/// Warnings and remarks, each on the rule that it speaks of (`rules-never-fires`, `rules-idle-example`,
/// `rules-changes-nothing`, `rules-repeats`, `rules-narrower`). A contradiction is named; where none is found
/// the rule is tried on the charts of example_chart.h, and on none of them its chords stand. What the engine
/// says to the chords that it writes there is not asked here (pipeline/rule_example.h).
[[nodiscard]] Diagnostics lint_rules(const RuleSet& rules, LintScope scope = LintScope::own,
                                     const Limits& limits = {});

/// True when `wide` does all that `narrow` does: the same new chords, in the same places or in more.
[[nodiscard]] bool covers(const Rule& wide, const Rule& narrow);

}  // namespace relead::rules
