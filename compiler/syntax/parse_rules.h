// From a `.rules` text to its syntax tree. The language is grammar/rules.ebnf; what the words mean is
// rules/read_rules.h.
#pragma once

#include <relead/outcome.h>

#include "syntax/rules_tree.h"
#include "text/limits.h"
#include "text/source.h"

namespace relead::syntax {

/// Reads the whole text and goes on after errors, line by line. The value is always there; a rule with
/// an unreadable line is marked broken.
[[nodiscard]] Outcome<RulesTree> parse_rules(const text::Source& source, const Limits& limits = {});
}  // namespace relead::syntax
