// One line about a tune, in a musician's words.
#pragma once

#include <string>

#include "tune/tune.h"

namespace relead::report {

/// "Ferry at First Light, F major, 4/4, 148 swing: 32 bars in A A B A, 2 plans."
[[nodiscard]] std::string summary(const tune::Tune& tune);

}  // namespace relead::report
