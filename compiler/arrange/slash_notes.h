// Bars without melody: slashes on the beats, rhythm where chords stand between them, and hits.
#pragma once

#include <vector>

#include "score/measure.h"
#include "tune/bar.h"

namespace relead::arrange {

struct SlashBar {
    score::SlashStyle style = score::SlashStyle::beats;
    std::vector<score::Element> elements;
};

/// A slash a beat (a group in 7/8). A beat in which a chord begins is split there, and that beat shows
/// its rhythm with stems. `chords` are the moments at which symbols stand.
[[nodiscard]] SlashBar slash_bar(const tune::Meter& meter, Time length, const std::vector<Time>& chords,
                                 theory::Pitch middle);

/// The rhythm section's figure: short hits with a wedge, held ones with an accent; rests are rests.
[[nodiscard]] SlashBar hit_bar(const std::vector<tune::HitEvent>& hits, theory::Pitch middle);

/// The same figure small over a melody: rests are gaps.
[[nodiscard]] std::vector<score::Element> hits_above(const std::vector<tune::HitEvent>& hits,
                                                     theory::Pitch above);

/// Accents on the melody instead, where every hit falls on the start of a melody note and every melody
/// note is hit. True when that was possible.
[[nodiscard]] bool accent_melody(const std::vector<tune::HitEvent>& hits,
                                 std::vector<score::Element>& melody);

/// Lengths of the beats of a bar, as the player counts them.
[[nodiscard]] std::vector<Time> beats_of(const tune::Meter& meter, Time length);

}  // namespace relead::arrange
