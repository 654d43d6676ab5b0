// How guide tones move from one chord to the next. Gates work on pitch classes; where a tone stands
// in register is a matter of the printed line.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "rules/rule.h"
#include "theory/chord.h"

namespace relead::reharm {

enum class MotionKind { held, step, skip, leap };  ///< 0, 1–2, 3–4, more semitones
[[nodiscard]] std::string_view to_string(MotionKind kind);

/// One guide tone on its way.
struct Motion {
    theory::Degree from_degree;
    theory::NoteName from;
    theory::Degree to_degree;
    theory::NoteName to;
    int semitones = 0;  ///< signed, the shorter way round (-6 … 6)
    MotionKind kind = MotionKind::held;
    bool declared = false;  ///< its landing is one that the rule's threads declare
};
/// "F (3) held", "B (3) step up to C (1)", "Ab (3) half step down to G (5)".
[[nodiscard]] std::string to_string(const Motion& motion);

/// The one-to-one pairing of guide tones with the least sum of motion, then the least greatest
/// motion. Empty when one of the chords has no guide tones (N.C.).
[[nodiscard]] std::vector<Motion> guide_motion(const theory::Chord& from, const theory::Chord& to);
/// The same with the landings that threads declare; guide tones without a thread fall back to the
/// default pairing. A thread takes the first of its landings that a whole step reaches, else its first.
[[nodiscard]] std::vector<Motion> guide_motion(const theory::Chord& from, const theory::Chord& to,
                                               const std::vector<rules::Thread>& threads);

}  // namespace relead::reharm
