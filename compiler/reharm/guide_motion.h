// How guide tones move from one chord to the next. Gates work on pitch classes; where a tone stands
// in register is a matter of the printed line.
#pragma once

#include <string>
#include <vector>

#include "theory/chord.h"
#include "theory/guide_motion.h"

namespace relead::reharm {

using MotionKind = theory::Move;  ///< held, step (1-2 semitones), skip (3-4), leap

/// One guide tone on its way.
struct Motion {
    theory::Degree from_degree;
    theory::NoteName from;
    theory::Degree to_degree;
    theory::NoteName to;
    int semitones = 0;  ///< signed, the shorter way round (-5 … 6)
    MotionKind kind = MotionKind::held;
    bool declared = false;  ///< its landing is one that the rule's threads declare
};
/// "F (3) held", "B (3) step up to C (1)", "Ab (3) half step down to G (5)".
[[nodiscard]] std::string to_string(const Motion& motion);

/// theory::guide_motion with the names of the tones; empty when a chord has no guide tones (N.C.).
[[nodiscard]] std::vector<Motion> motions_between(const theory::Chord& from, const theory::Chord& to);
/// The same with the landings that a rule's threads declare.
[[nodiscard]] std::vector<Motion> motions_between(const theory::Chord& from, const theory::Chord& to,
                                                  const std::vector<theory::Thread>& threads);
/// The motion that skips or leaps; null when every guide tone holds or steps.
[[nodiscard]] const Motion* beyond_a_step(const std::vector<Motion>& motions);
[[nodiscard]] int semitones_moved(const std::vector<Motion>& motions);

}  // namespace relead::reharm
