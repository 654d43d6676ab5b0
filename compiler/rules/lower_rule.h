// One rule from its syntax tree: chords, classes and degrees understood, names of found chords resolved.
#pragma once

#include <optional>

#include "rules/rule.h"
#include "syntax/rules_tree.h"
#include "text/diagnose.h"

namespace relead::rules {

/// Nothing when the rule cannot be used; `sink` says why.
[[nodiscard]] std::optional<Rule> lower_rule(const syntax::RuleNode& node, text::Sink& sink);

/// What a reason may speak of in braces: {new}, {old}, {next}, …
[[nodiscard]] bool is_placeholder(std::string_view word);

}  // namespace relead::rules
