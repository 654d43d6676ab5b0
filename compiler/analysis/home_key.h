// The home key from the chords alone: what speaks for each of the 24 keys, weighed by
// grammar/key-weights.txt.
#pragma once

#include "analysis/heard.h"

namespace relead::analysis {

[[nodiscard]] Tonality home_tonality(const Chorus& chorus);

/// A blues on this tonic: I7 and IV7 take a large part of the time, I7 among the first chords, and
/// no major tonic outweighs it.
[[nodiscard]] bool is_blues(const Chorus& chorus, int tonic);

/// Index of the tune's final tonic: the last tonic chord of the last three bars (in a blues I7 too,
/// failing that the tonic of the other mode),
/// or -1 when the tune ends away from home and leads on into the next chorus, or is a vamp of two bars to
/// the end.
[[nodiscard]] int final_tonic(const Chorus& chorus, const Tonality& home, bool blues);

}  // namespace relead::analysis
