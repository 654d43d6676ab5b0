// Runs and conditions of a rule from its syntax tree.
#pragma once

#include <optional>

#include "rules/rule.h"
#include "syntax/rules_tree.h"
#include "text/diagnose.h"

namespace relead::rules {

[[nodiscard]] std::optional<Run> lower_run(const syntax::RuleRun& node, text::Sink& sink);
/// A chord of a rule has one sign at most; of one with more says which it is (bbIII7 is II7). False for
/// others.
bool complain_of_signs(const syntax::RuleWord& word, text::Code code, text::Sink& sink);
/// The found chord that a word names: `@2`, or the text of one of its alternatives.
[[nodiscard]] std::optional<int> found_by_name(const Run& find, const syntax::RuleWord& word);
/// `new_chords`: how many the rule writes; 0 when it keeps each found one.
[[nodiscard]] std::optional<Clause> lower_clause(const syntax::RuleClause& node, const Run& find,
                                                 int new_chords, text::Sink& sink);
/// What a degree counts in: the tones of a chord (1 to 7, 9, 11, 13) or the steps of the scale (1 to 7).
enum class Counting { chord, scale };
/// A degree word, or a diagnostic with the degree of the same name that there is (12 is 5).
[[nodiscard]] std::optional<theory::Degree> lower_degree(const syntax::RuleWord& word, Counting counting,
                                                         text::Sink& sink);
/// A class word, or a diagnostic with the classes that there are.
[[nodiscard]] std::optional<KindSet> lower_kinds(const syntax::RuleWord& word, text::Sink& sink);

}  // namespace relead::rules
