// The `example` line of a rule: changes in numerals, bar by bar, on which it can be shown at work.
#pragma once

#include <optional>
#include <string>

#include "syntax/rules_tree.h"
#include "text/diagnose.h"

namespace relead::rules {

/// "ii7 | V7 | Imaj7" with one blank between all words, or a diagnostic (`rules-bad-example`) at the word or
/// the bar that is wrong. A bar has one, two or four chords.
[[nodiscard]] std::optional<std::string> read_example(const syntax::RuleWord& line, text::Sink& sink);

}  // namespace relead::rules
