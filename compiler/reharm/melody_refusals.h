// What is wrong with new chords under a melody of which no single note clashes.
#pragma once

#include <optional>
#include <string>

#include "reharm/melody_fit.h"
#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// Over a dominant that does not fall a fifth a flat ninth that does not just go by is no colour of the key:
/// it rubs against the root, and players hear a wrong note (common practice, no source). In a sentence.
[[nodiscard]] std::optional<std::string> flat_ninth_that_rubs(const rules::Chart& chart,
                                                              const rules::Placement& placement,
                                                              const MelodyVerdict& melody);
/// Notes that each go by, or are tensions, may still spell another chord together. In a sentence.
[[nodiscard]] std::optional<std::string> spells_another_chord(const rules::Placement& placement,
                                                              const MelodyVerdict& melody);
/// The fourth and the minor third of a new dominant, one after the other, deny its third twice: each alone
/// goes by or is a colour. In the blues both are at home. In a sentence.
[[nodiscard]] std::optional<std::string> contradicts_third(const rules::Chart& chart,
                                                           const rules::Placement& placement,
                                                           const MelodyVerdict& melody);
/// Whole beats of a held b9 or b13 over a dominant that slides.
[[nodiscard]] int harsh_beats(const rules::Chart& chart, const rules::Placement& placement,
                              const NoteVerdict& note);

}  // namespace relead::reharm
