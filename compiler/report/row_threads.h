// Guide tones of a compared row: the two voices of its tune's guide-tone line, and where each goes.
#pragma once

#include <cstddef>
#include <map>

#include "report/comparison.h"
#include "voicing/guide_line.h"

namespace relead::report {

/// The guide-tone line of one tune, chord by chord.
class RowThreads {
public:
    /// `soloist`: the line follows the soloist's chords where the tune has them.
    RowThreads(const tune::Tune& tune, bool soloist);

    /// Of the whole tune, as every other command counts them.
    [[nodiscard]] const GuideCounts& counts() const { return counts_; }
    /// The lower voice, then the upper one; empty for N.C. Where they go is not yet known.
    [[nodiscard]] std::vector<GuideTone> tones_of(const tune::ChordRef& ref) const;

private:
    std::map<tune::ChordRef, voicing::GuidePair> pairs_;
    GuideCounts counts_;
};

/// Leads the guide tones of row `row` to those of the chord after it, from bar to bar.
void lead_threads(Comparison& comparison, std::size_t row);

}  // namespace relead::report
