// A bass that the author wrote into a symbol (C/E) is a line where it moves by step or stays: what is laid
// over it starts with the same bass. A line of three basses and more is kept step by step.
#pragma once

#include <optional>
#include <string>

#include "rules/placement.h"

namespace relead::reharm {

/// Why `placement` takes a written bass line away, as a sentence; nothing when it keeps it. A slash chord is
/// part of a line when the bass before it or after it, as written, is at most a whole step away (common
/// practice, no source). Only the moment where the written chord starts counts: C/E may go on to another
/// chord. Where three written basses or more walk one way by step, a slash chord on the way (Am7 Am7/G
/// F#m7b5), the root chords among them keep their bass too, and each goes on to the next one as written, or
/// with the half step between.
[[nodiscard]] std::optional<std::string> breaks_bass_line(const rules::Chart& chart,
                                                          const rules::Placement& placement);

}  // namespace relead::reharm
