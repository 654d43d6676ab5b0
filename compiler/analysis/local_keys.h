// The key in which each chord is heard, by dynamic programming over the chords of a chorus: what
// grammar/local-key-fit.txt and grammar/local-key-weights.txt add up to.
#pragma once

#include <optional>
#include <vector>

#include "analysis/heard.h"

namespace relead::analysis {

/// One key per chord. A change of key costs more than a passing dominant or two is worth: only a cadence
/// that is dwelt on moves the ear (common practice, no source). Under a modal home key the chords of its
/// scale belong there.
[[nodiscard]] std::vector<Tonality> local_keys(const Chorus& chorus, const Tonality& home,
                                               const std::optional<ModeScale>& mode = std::nullopt);

}  // namespace relead::analysis
