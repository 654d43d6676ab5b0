// The sentence that says what a version is about.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reharm/version.h"
#include "rules/rule.h"

namespace relead::reharm {

/// "Dominants from a half step above: tritone substitute (four times) and half-step dominants, into ii and I;
/// also related ii." Counted from the changes alone: the idea that half of them and more serve, else a list.
/// `home` names the goals (absent: no key is claimed, their chords do); of two ideas that as many changes
/// serve the one that no `earlier` version states.
[[nodiscard]] std::string idea_of(const std::vector<Change>& changes, const std::vector<Version>& earlier,
                                  const rules::RuleSet& rules, const std::optional<theory::Key>& home);

/// "Against mild: new at A:4 and B:2; without the change at A:7.": where a version differs from the nearest
/// one before it that is about the same; empty when none is.
[[nodiscard]] std::string against(const Version& now, const std::vector<Version>& earlier,
                                  const rules::RuleSet& rules);

}  // namespace relead::reharm
