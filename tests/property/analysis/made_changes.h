// Random changes as players write them: bars of one section, no key, no melody.
#pragma once

#include <cstdint>
#include <string>

#include "tune/tune.h"

namespace relead::testing {

/// `bars` bars of dominants that fall, two-fives, substitutes, diminished chords, repetitions and plain
/// accidents around a tonic. The same seed gives the same changes; seed % 4 == 3 gives nothing but accidents.
[[nodiscard]] std::string made_changes(std::uint64_t seed, int bars);
[[nodiscard]] tune::Tune made_changes_tune(std::uint64_t seed, int bars);

}  // namespace relead::testing
