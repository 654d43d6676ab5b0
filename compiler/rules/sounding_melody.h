// The melody over a stretch of a section as it sounds: ties joined, what is not known said.
#pragma once

#include <span>
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

/// How long note `index` sounds in [from, to), with the same pitch struck again right before and after it:
/// two quavers on one pitch are heard as a crotchet.
[[nodiscard]] Time sounding_within(std::span<const SoundingNote> notes, std::size_t index, Time from,
                                   Time to);

struct SoundingMelody {
    bool known = false;                   ///< some of it is written
    bool all_known = false;               ///< all of it is written
    std::span<const SoundingNote> notes;  ///< that sound between the two times, in order
};

/// The melodies of a tune, worked out once: the `melody` row, where it is missing the `long` row.
class Melodies {
public:
    Melodies() = default;  ///< nothing is played
    explicit Melodies(const tune::Tune& tune);
    /// What sounds in section `section` between two times from the start of its text: a view.
    [[nodiscard]] SoundingMelody between(int section, Time from, Time to) const;

private:
    /// A time about which the text says something: written (notes and rests) or unknown.
    struct Stretch {
        Time start, end;
        bool known = false;
    };
    struct Line {
        std::vector<SoundingNote> notes;
        std::vector<Stretch> stretches;  ///< in order, without gaps
    };
    static Line read(const tune::Section& section);
    std::vector<Line> lines_;
};

}  // namespace relead::rules
