// What a rule looks for, in a musician's words.
#pragma once

#include <optional>
#include <string>

#include "rules/rule.h"

namespace relead::rules {

/// "a major chord, a minor chord or a dominant on G".
[[nodiscard]] std::string wanted(const Element& element, theory::NoteName tonic);

/// "a minor seventh on G, then a dominant on C", "a minor seventh, then a dominant a fourth higher" where the
/// rule is counted from no tonic in particular, "whatever stands in the last 2 bars of the section". Chords
/// that may be absent are left out.
[[nodiscard]] std::string find_words(const Rule& rule, const std::optional<theory::NoteName>& tonic);

}  // namespace relead::rules
