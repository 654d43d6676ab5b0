// The guide-tone line's counts as text for a terminal.
#pragma once

#include <string>

#include "report/guide_line.h"

namespace relead::formats::text {

/// Two lines under a heading: as written, and this version.
[[nodiscard]] std::string print_guide_counts(const report::GuidePairOfCounts& counts);

}  // namespace relead::formats::text
