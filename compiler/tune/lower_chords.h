// The chords of one bar: how they share its beats, and what each symbol says.
#pragma once

#include <vector>

#include "syntax/tune_tree.h"
#include "text/diagnose.h"
#include "tune/bar.h"
#include "tune/spot.h"

namespace relead::tune {

/// Chords of a cell without `%`. They split the bar evenly (or along the meter's stated groups), or
/// stand one a beat with `/` for each further beat, or say their beats with `*`, the others
/// sharing the rest evenly. Anything else is an error that shows the possible readings; the result
/// fills the bar all the same. Unknown symbols become N.C. after an error.
[[nodiscard]] std::vector<ChordEvent> lower_chords(const syntax::Cell& cell, const Spot& spot,
                                                   text::Sink& sink);
/// How long a pickup cell of chords is: its `*` beats, one beat for every other word.
[[nodiscard]] Time pickup_length(const syntax::Cell& cell, const Meter& meter);

}  // namespace relead::tune
