// The sentence that tells a player why a change is there, from the rule's own words.
#pragma once

#include <string>

#include "rules/placement.h"
#include "rules/rule.h"

namespace relead::reharm {

/// Chords that stand around a placement in its version; null = nothing there.
struct Neighbours {
    const theory::Chord* previous = nullptr;
    const theory::Chord* next = nullptr;
};

/// The reasons of all rules that had a hand in it, in their order, what only colours a chord last, each with
/// the chords that stood around it when it was applied; new chords have the colour that they are printed
/// with. A step whose chords a later one replaced is named, not told: "Where G7 (secondary dominant) could
/// stand, Db7 keeps B and F of G7 and falls a half step to Cmaj7."; "With ..." where all of its chords are
/// played, "Dm7b5 G7b9 (...) could stand there, and Dm7b5 does." where some are.
[[nodiscard]] std::string reason(const rules::RuleSet& rules, const rules::Placement& placement,
                                 const theory::Key& home, const Neighbours& around);

}  // namespace relead::reharm
