// Reading `.rules` texts into a RuleSet. The language is grammar/rules.ebnf.
#pragma once

#include <relead/outcome.h>

#include "rules/rule.h"
#include "text/limits.h"
#include "text/source.h"

namespace relead::rules {

/// The rules of `source` added to `base`. A rule with the name of a built-in one takes its place
/// (said in a remark); two rules of one name in one text are an error. Wrong rules are left out
/// and the rest is read on; the value is absent only when the text holds no usable rule at all.
[[nodiscard]] Outcome<RuleSet> read_rules(const text::Source& source, const RuleSet& base = {},
                                          const Limits& limits = {});
/// The rules of grammar/rules/, embedded when Relead was built.
[[nodiscard]] const RuleSet& built_in_rules();
/// The rule name or family nearest in spelling, for a "did you mean"; empty when none is near.
[[nodiscard]] std::string nearest_rule(const RuleSet& rules, std::string_view word);

}  // namespace relead::rules
