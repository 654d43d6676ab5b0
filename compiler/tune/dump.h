// Compact, stable text of a tune and of its playing order, for goldens and `--dump`. Everything but the
// spans is in it: two tunes with the same dump are the same music.
#pragma once

#include <string>
#include <vector>

#include "tune/tune.h"
#include "tune/unfold.h"

namespace relead::tune {

[[nodiscard]] std::string dump(const Tune& tune);
/// One line a run of bars: "0 A:1-8" with the start in whole notes and the playing: "8 A:1-6 (2)".
[[nodiscard]] std::string dump(const Tune& tune, const std::vector<PlayedBar>& bars);
[[nodiscard]] std::string dump(const Tune& tune, const std::vector<PlayedChorus>& choruses);
/// The bars of an order without times: "A:1-8 A:1-6 A:9-10 B:1-8".
[[nodiscard]] std::string bar_runs(const Tune& tune, const std::vector<PlayedBar>& bars);

}  // namespace relead::tune
