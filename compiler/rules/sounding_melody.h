// The melody over a stretch of a section as it sounds: ties joined, what is not known said.
#pragma once

#include <vector>

#include "tune/tune.h"

namespace relead::rules {

struct SoundingNote {
    theory::Pitch pitch;
    Time start;   ///< from the start of the section's text
    Time length;  ///< ties included
    int bar = 0;  ///< index of the bar where it starts
    Time at;      ///< from the start of that bar
    [[nodiscard]] Time end() const { return start + length; }
    /// How long it sounds between two times.
    [[nodiscard]] Time within(Time from, Time to) const;
};

struct SoundingMelody {
    bool known = false;               ///< some of it is written
    bool all_known = false;           ///< all of it is written
    std::vector<SoundingNote> notes;  ///< that sound between the two times, in order
};

/// The `melody` row, where it is missing the `long` row, of section `section` between two times.
[[nodiscard]] SoundingMelody melody_between(const tune::Tune& tune, int section, Time from, Time to);

}  // namespace relead::rules
