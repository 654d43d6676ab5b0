// The parts that several lines of a rule share: runs of chords, lengths, places, conditions. Each reader
// leaves the cursor where it stopped and says what is wrong in `sink`; nothing = unreadable.
#pragma once

#include <optional>

#include "syntax/rules_lexer.h"
#include "syntax/rules_tree.h"
#include "text/diagnose.h"

namespace relead::syntax {

[[nodiscard]] std::optional<RuleRun> read_run(RuleCursor& cursor, text::Sink& sink);
/// "at least 2 beats"; false when the cursor does not stand on `at`.
[[nodiscard]] bool at_length(const RuleCursor& cursor);
[[nodiscard]] std::optional<LengthBound> read_length(RuleCursor& cursor, text::Sink& sink);
[[nodiscard]] std::optional<FormPlace> read_place(RuleCursor& cursor, text::Sink& sink);
[[nodiscard]] std::optional<RuleClause> read_clause(RuleCursor& cursor, text::Sink& sink);
/// A whole number, or a fraction `1/2`, above 0.
[[nodiscard]] std::optional<Fraction> read_amount(std::string_view word);
/// `7 | 4 | #7`
[[nodiscard]] std::vector<RuleWord> read_alternatives(RuleCursor& cursor);
[[nodiscard]] RuleWord word_of(const RuleToken& token);

}  // namespace relead::syntax
