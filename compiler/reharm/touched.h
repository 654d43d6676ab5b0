// What a placement leaves of the written chords in its span.
#pragma once

#include "reharm/judge.h"

namespace relead::reharm {

/// Written chord `spot` does not sound from its start to its end as it was. A soloist changes no bass and no
/// chord of the band: for one another bass, or some of the same tones under another name, is no change.
[[nodiscard]] bool touches(const Situation& situation, const rules::Placement& placement, int spot);
/// Written chord `spot` sounds where it starts, though perhaps not to its end.
[[nodiscard]] bool begins_as_written(const rules::Chart& chart, const rules::Placement& placement, int spot);
/// Some of its chord sounds with written chord `spot`.
[[nodiscard]] bool sounds_with(const rules::Chart& chart, const rules::Placement& placement,
                               const rules::NewChord& chord, int spot);
/// Some of its chords have another tone than the root in the bass.
[[nodiscard]] bool moves_the_bass(const rules::Placement& placement);

}  // namespace relead::reharm
