// The tune of a version: placements laid into the rows of the tune that came in.
#pragma once

#include <vector>

#include "rules/placement.h"
#include "tune/tune.h"

namespace relead::reharm {

/// Where the new chords go: for the band into `changes`, for a soloist into `soloist`, where the whole bar
/// is written, its unchanged chords too.
enum class Row { changes, soloist };

/// Chords that sound over a bar line are written again after it; pushes stay with the chord that starts
/// where the pushed one did; `%` after a changed bar is written out.
[[nodiscard]] tune::Tune lay_into_tune(const tune::Tune& tune, const rules::Chart& chart,
                                       const std::vector<rules::Placement>& placements, Row row);

/// Eight hexadecimal digits that change when anything in the tune but its stamp does.
[[nodiscard]] std::string stamp_hash(const tune::Tune& tune);

}  // namespace relead::reharm
