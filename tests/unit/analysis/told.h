// What the analysis says, in short words for tables of tests.
#pragma once

#include <string>

#include "analysis/analysis.h"
#include "support/small_tunes.h"

namespace relead::testing {

/// `changes` in one section that is played round, four in a bar; an empty `key` states none.
[[nodiscard]] analysis::Analysis analysed(const std::string& key, const std::string& changes);

/// "ii7 V7 Imaj7"
[[nodiscard]] std::string numerals(const analysis::Analysis& analysis);
/// A letter or two for each chord: T tonic, P predominant, D dominant, S substitute dominant, B backdoor,
/// pd passing and ad auxiliary diminished, b borrowed, M modal, - other.
[[nodiscard]] std::string functions(const analysis::Analysis& analysis);
/// "1 2 end top": the index of what each chord depends on.
[[nodiscard]] std::string targets(const analysis::Analysis& analysis);
/// "0 1": the chords for which `flag` stands.
[[nodiscard]] std::string chords_with(const analysis::Analysis& analysis, bool analysis::ChordFact::*flag);
/// "C major: 0-3, A minor: 4-5"
[[nodiscard]] std::string local_keys(const analysis::Analysis& analysis);

}  // namespace relead::testing
