// From the syntax tree to the tune model, with all checks of a single tune: bars that add up,
// known chords, one order of playing, plans that make sense. Goes on after errors; the value is
// absent only when there is no bar at all.
#pragma once

#include <relead/outcome.h>

#include "text/limits.h"
#include "text/source.h"
#include "tune/tune.h"

namespace relead::tune {

/// The home key of a tune, from its chords alone.
using KeyEstimate = theory::Key (*)(const Tune&);

/// Reads a whole tune: syntax::parse_tune, then lowering and checks. A tune without a key gets the one of
/// `estimate`, or C major without one; a remark says so, and another one when a given key is not the one that
/// `estimate` finds.
[[nodiscard]] Outcome<Tune> read_tune(const text::Source& source, const Limits& limits = {},
                                      KeyEstimate estimate = nullptr);

}  // namespace relead::tune
