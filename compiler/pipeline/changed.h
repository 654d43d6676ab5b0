// Which chords of a version differ from the written ones.
#pragma once

#include <vector>

#include "arrange/lead_sheet.h"
#include "tune/tune.h"

namespace relead::pipeline {

/// Chords of `version` that do not sound as written, with the written chords that stood in their
/// time. Bars are paired in playing order, so that sections which a version splits find theirs.
[[nodiscard]] std::vector<arrange::ChangedChord> changed_chords(const tune::Tune& version,
                                                                const tune::Tune& written);

}  // namespace relead::pipeline
