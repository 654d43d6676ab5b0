// What the guide-tone line of a tune does, as numbers for any output.
#pragma once

#include <string>

#include "tune/tune.h"
#include "voicing/guide_moves.h"

namespace relead::report {

/// Moves of both voices over one chorus as played, the turn to the next one included.
struct GuideCounts {
    int held = 0;
    int step = 0;
    int skip = 0;
    int leap = 0;
    int tendency_tones = 0;  ///< leading tones and fourths of dominants that fall to their goal
    int resolved = 0;
    int delayed = 0;  ///< the fourth waits as a suspension
    bool exact = true;
};

/// A version beside what was written.
struct GuidePairOfCounts {
    GuideCounts written;
    GuideCounts version;
};

[[nodiscard]] GuideCounts guide_counts(const voicing::LineReport& report);
/// `for_soloist`: both lines follow the soloist's row where there is one.
[[nodiscard]] GuidePairOfCounts guide_counts(const tune::Tune& written, const tune::Tune& version,
                                             bool for_soloist);

/// "41 held, 30 steps, 2 skips, no leap; 14 of 15 tendency tones resolve"
[[nodiscard]] std::string guide_sentence(const GuideCounts& counts);

}  // namespace relead::report
