// A score as compact, stable text, one line a measure: for tests and `--dump score`.
#pragma once

#include <string>

#include "score/performance.h"
#include "score/score.h"

namespace relead::score {

/// "[A] |: 1 4/4 -1 Fmaj7@0 D7@1/2 : F4q. G4e …"
[[nodiscard]] std::string dump(const Score& score);
[[nodiscard]] std::string dump(const Measure& measure);

/// What a band plays: marks, then each voice bar by bar, "  3 | F3@1/8+3/8 A3@1/8+3/8": key @ place in the
/// bar + length, straight. Bars are counted from the start, count-in included.
[[nodiscard]] std::string dump(const Performance& performance);

}  // namespace relead::score
