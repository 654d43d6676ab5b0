// Text of what the middle stages made, for `--dump`.
#pragma once

#include <string>

#include "analysis/analysis.h"
#include "rules/rule.h"
#include "tune/tune.h"

namespace relead::pipeline {

/// The keys, then one line a chord: place, symbol, local key, numeral, function, target.
[[nodiscard]] std::string dump_analysis(const tune::Tune& tune, const analysis::Analysis& analysis);
/// One line a place where a rule fits: place, old chords, new chords, rule.
[[nodiscard]] std::string dump_candidates(const tune::Tune& tune, const analysis::Analysis& analysis,
                                          const rules::RuleSet& rules);

}  // namespace relead::pipeline
