// The guard of guide tones: from a new chord into the chord that follows it in that version, each guide
// tone holds or moves by at most a whole step, or lands where the rule's threads say. How a new chord
// is approached only costs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reharm/guide_motion.h"
#include "rules/placement.h"
#include "rules/rule.h"

namespace relead::reharm {

/// Threads that the rule of a new chord declares for it; empty = the default pairing.
[[nodiscard]] const std::vector<theory::Thread>& threads_of(const rules::RuleSet& rules,
                                                            const rules::NewChord& chord);

/// Motion out of a new chord. `threads_of` it lead the way.
[[nodiscard]] std::vector<Motion> arrival(const rules::RuleSet& rules, const rules::NewChord& from,
                                          const theory::Chord& to);

/// The sentence with which an arrival is refused; nothing when it passes.
[[nodiscard]] std::optional<std::string> refuse_arrival(const rules::RuleSet& rules,
                                                        const rules::NewChord& from, const theory::Chord& to);

/// The same for motions that are known already.
[[nodiscard]] std::optional<std::string> refuse_motions(const std::vector<Motion>& motions,
                                                        const theory::Chord& from, const theory::Chord& to);

/// Arrivals inside a placement: every new chord into the next one of it.
[[nodiscard]] std::optional<std::string> refuse_inside(const rules::RuleSet& rules,
                                                       const rules::Placement& placement);

}  // namespace relead::reharm
