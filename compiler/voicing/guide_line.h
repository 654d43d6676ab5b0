// The guide-tone line: the third and the seventh of every chord as two voices in register, moving as little
// as the whole tune allows.
//
// The line is one for the written chords, so that a section reads the same each time it is played, and its
// cost is summed over the chorus as it is played, the turn into the next chorus included. An exact search
// finds the least sum of what grammar/guide-line.txt lists: semitones of both voices, and a mild pull towards
// the middle of the register. Voices never cross. N.C. ends the line; it begins afresh after it, free of
// cost.
//
// Ties: of lines that cost the same, the one with the smallest sum of squared moves, then nearest to the
// middle of the register, then lowest, then the triad's first choice. Everything is measured from the
// register, never from absolute pitch: with a register moved alike, a transposed tune has the transposed
// line.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "theory/chord.h"
#include "voicing/chord_walk.h"
#include "voicing/registers.h"

namespace relead::voicing {

struct GuideTone {
    theory::Degree degree;  ///< of its chord
    theory::Pitch pitch;    ///< sounding, spelled by the chord (the seventh of Db7 is Cb)
    friend bool operator==(const GuideTone&, const GuideTone&) = default;
};

/// The two guide tones of one chord.
struct GuidePair {
    GuideTone lower;
    GuideTone upper;
    friend bool operator==(const GuidePair&, const GuidePair&) = default;
};

struct GuideLine {
    std::vector<std::optional<GuidePair>> pairs;  ///< per chord of the walk; none for N.C.
    std::int64_t cost = 0;                        ///< over one chorus as played
    /// False where a form of many joints had to be cut: some ends of runs then stand in the middle of
    /// the register.
    bool exact = true;
};

/// The least-cost line over a walk.
[[nodiscard]] GuideLine guide_line(const ChordWalk& walk,
                                   const GuideLineWeights& weights = guide_line_weights());

/// Every place of a chord's guide tones inside the register, in the order in which ties are settled; empty
/// for N.C. A triad offers its 3 with 1 and with 5.
[[nodiscard]] std::vector<GuidePair> guide_places(const theory::Chord& chord,
                                                  const GuideLineWeights& weights);

/// Semitones that both voices move from one pair to the next.
[[nodiscard]] int semitones_between(const GuidePair& from, const GuidePair& to);

}  // namespace relead::voicing
