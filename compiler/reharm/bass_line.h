// A bass that the author wrote into a symbol (C/E) is a line where it moves by step or stays: what is laid
// over it starts with the same bass.
#pragma once

#include <optional>
#include <string>

#include "rules/placement.h"

namespace relead::reharm {

/// Why `placement` takes a written bass line away, as a sentence; nothing when it keeps it. A slash chord is
/// part of a line when the bass before it or after it, as written, is at most a whole step away (common
/// practice, no source). Only the moment where the written chord starts counts: C/E may go on to another
/// chord.
[[nodiscard]] std::optional<std::string> breaks_bass_line(const rules::Chart& chart,
                                                          const rules::Placement& placement);

}  // namespace relead::reharm
