// The symbols of new chords: held colours of the melody in them, spelled in the composer's own hand.
#pragma once

#include <optional>
#include <string>

#include "reharm/judge.h"

namespace relead::reharm {

/// Writes the symbols, also where the derivation speaks of these chords. What the melody added to them, in
/// sentences; empty when nothing. Colours that the tune wrote there itself are not the melody's.
[[nodiscard]] std::string write_symbols(const Situation& situation, rules::Placement& placement);

/// What stands after new chord `index`: in the placement, else as written, else what the placement asks for
/// there; nothing when nobody knows.
[[nodiscard]] std::optional<theory::Chord> following(const rules::Chart& chart,
                                                     const rules::Placement& placement, std::size_t index);

}  // namespace relead::reharm
