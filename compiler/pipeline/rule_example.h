// A rule tried out: small tunes that fit it, compiled with this rule alone until one takes it.
#pragma once

#include <optional>

#include <relead/outcome.h>

#include "report/rule_example.h"
#include "rules/rule.h"
#include "theory/key.h"

namespace relead::pipeline {

/// The rule at work in a tune on `tonic` (in `mode`, when given). A change that the engine refuses is
/// shown only when no tune was found where it is allowed. Nothing when the rule fires nowhere.
[[nodiscard]] std::optional<report::RuleExample> rule_example(const rules::Rule& rule, theory::NoteName tonic,
                                                              std::optional<theory::Mode> mode = {});

/// Remarks on rules that are not built in whose own `example` they fire on, while the engine refuses what
/// they write there: `rules-idle-example`, with what speaks against it. Where they do not fire is for
/// rules/lint.h.
[[nodiscard]] Diagnostics refused_examples(const rules::RuleSet& rules);

}  // namespace relead::pipeline
