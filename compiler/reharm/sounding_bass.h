// Superimposed changes against what the rhythm section goes on playing: for a soloist a new chord is as far
// outside as it rubs against the written chord and its bass.
#pragma once

#include <string>
#include <vector>

#include "reharm/melody_fit.h"
#include "theory/key.h"

namespace relead::reharm {

struct SoundingVerdict {
    int rubs = 0;          ///< the most tones of one new chord that rub against a sounding one
    std::string sentence;  ///< "Over G7: F is the b7, Cb the 3; nothing rubs."
};

/// Judges root, third, fifth and seventh (the degrees that the symbol names) of each chord of `superimposed`
/// against the chords of `sounding` that go on in its time. A tone rubs when it is no chord tone and no
/// available tension of the sounding chord, or lies a half step above its bass where that is no dominant's.
/// N.C. sounds nothing. Common practice, no source.
[[nodiscard]] SoundingVerdict against_the_bass(const std::vector<TimedChord>& sounding,
                                               const std::vector<TimedChord>& superimposed,
                                               const theory::Key& key);

/// How far outside so many rubbing tones are, 1..4: one is heard as passing, two lead outside, all are a
/// chord of another key.
[[nodiscard]] int level_of_rubs(int rubs);

}  // namespace relead::reharm
