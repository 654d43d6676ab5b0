// Conditions of a rule as half sentences: "Cmaj7 lasts 2 bars", "the tune is a blues".
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "rules/rule.h"

namespace relead::rules {

/// What the half sentences call the chords that a rule found.
struct ChordNames {
    std::string found;                                     ///< all of them: "Dm7 G7"
    bool several = false;                                  ///< more than one
    std::function<std::string(const Condition&)> subject;  ///< the one a condition speaks of; "" = none
};

/// "the last 2 bars of the section".
[[nodiscard]] std::string place_words(const FormPlace& place);
/// All conditions together, joined with "and"; nothing when one of them has no words yet.
[[nodiscard]] std::optional<std::string> words_of(const std::vector<Condition>& all, const ChordNames& names);
/// The alternatives of a clause, joined with "or where"; nothing when one of them has no words.
[[nodiscard]] std::optional<std::string> words_of(const Clause& clause, const ChordNames& names);

}  // namespace relead::rules
