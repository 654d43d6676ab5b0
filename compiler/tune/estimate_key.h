// A first guess at the key of a tune whose header states none, from its chords in playing order.
#pragma once

#include "tune/tune.h"

namespace relead::tune {

/// Scores every chord root as a major, minor and blues tonic by how much of the chords lies in its
/// scale, by cadences onto it and by the first and last chord. The same tune in another key gives the
/// same key transposed; C major when there is no chord.
[[nodiscard]] theory::Key guess_key(const Tune& tune);

}  // namespace relead::tune
