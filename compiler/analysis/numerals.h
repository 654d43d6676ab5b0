// What chords are called: numerals against the major scale of the tonic. They depend on sounds alone, never
// on how a chart spells them, so that a tune reads alike in all keys.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "analysis/functions.h"
#include "analysis/reading.h"

namespace relead::analysis {

/// Which of its two names a diminished chord between two degrees has: #i° leads upwards, bii° downwards.
enum class Leading : std::uint8_t { upwards, downwards };

/// Without what it is applied to, named as musicians count (common practice, no source): bIII rather than
/// #II, VII rather than bI; #iv7 but bV7; a diminished chord by where it leads. A bass is counted from the
/// root: 3, b7, 7. N.C. gives its symbol.
[[nodiscard]] std::string plain_numeral(const theory::Chord& chord, theory::NoteName tonic,
                                        Leading leading = Leading::upwards);

/// "ii7", "V7/ii", "subV7/V", "ii7/IV", "bVII7": against the local tonic's major scale.
[[nodiscard]] std::string numeral_of(const ChorusReading& reading, const std::vector<Duty>& duties, int i,
                                     theory::NoteName local_tonic);

}  // namespace relead::analysis
