// For plans that say `each time different`: the tune with a section of its own for every playing, so that
// each can take its own changes. Repeats and endings inside a section are written out.
#pragma once

#include <vector>

#include "analysis/analysis.h"
#include "tune/tune.h"

namespace relead::reharm {

struct Unfolded {
    tune::Tune tune;
    analysis::Analysis analysis;  ///< of the unfolded tune, from the one that came in
};

/// Sections played more than once become A1, A2, …; addresses of plans name all of them. A tune whose
/// order is in its signs (no `form`) is given back as it is. Endings that only the last chorus takes stay
/// endings of the last playing.
[[nodiscard]] Unfolded unfold_playings(const tune::Tune& tune, const analysis::Analysis& analysis);

}  // namespace relead::reharm
