// The names that a plan calls rules by, bound to the rules that there are.
#pragma once

#include <vector>

#include <relead/outcome.h>

#include "rules/rule.h"
#include "text/diagnose.h"
#include "tune/plan.h"
#include "tune/tune.h"

namespace relead::reharm {

/// Indices of the rules of that name or family; empty where there are none.
[[nodiscard]] std::vector<int> rules_called(const rules::RuleSet& rules, const tune::RuleName& name);

/// Says that no rule and no family has this name, with the nearest name as the fix. `code` is unknown_rule
/// where `rules` are all that there are, rule_not_built_in where a file of the user's may hold more.
void tell_unknown_rule(const rules::RuleSet& rules, const tune::RuleName& name, text::Code code,
                       text::Sink& sink);

/// Every name in every plan of the tune that is no rule and no family of `rules`, each place on its own.
[[nodiscard]] Diagnostics unknown_rule_names(const tune::Tune& tune, const rules::RuleSet& rules,
                                             text::Code code);

}  // namespace relead::reharm
