// Reads the signs of a part as a player does: repeats, endings, D.C., D.S., Fine, Coda.
// This is the proof that a sheet says what the tune says, and the order for sound files.
#pragma once

#include <vector>

#include "score/score.h"

namespace relead::score {

/// Indices into `part.measures` in the order of playing. Rules: a backward repeat goes back to the
/// nearest forward repeat before it, else to the first full measure or to the measure after the
/// repeat before it; endings are chosen by the pass; after D.C. or D.S. repeats are not taken again
/// and the last ending is, until the coda; D.C. does not play the pickup again; Fine and To Coda count only
/// after the jump, and a coda that no jump leads to is left out (it ends the last time through). Jumps
/// without a target are passed over. At most `limit` measures are returned.
[[nodiscard]] std::vector<int> play_order(const Part& part, std::size_t limit = 100000);

}  // namespace relead::score
