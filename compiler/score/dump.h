// A score as compact, stable text, one line a measure: for tests and `--dump score`.
#pragma once

#include <string>

#include "score/score.h"

namespace relead::score {

/// "[A] |: 1 4/4 -1 Fmaj7@0 D7@1/2 : F4q. G4e …"
[[nodiscard]] std::string dump(const Score& score);
[[nodiscard]] std::string dump(const Measure& measure);

}  // namespace relead::score
