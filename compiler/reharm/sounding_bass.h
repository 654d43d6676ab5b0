// Superimposed changes against what the rhythm section goes on playing: for a soloist a new chord is as far
// outside as it rubs against the written chord and its bass.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reharm/melody_fit.h"
#include "theory/key.h"

namespace relead::reharm {

struct SoundingVerdict {
    int rubs = 0;            ///< the most tones of one new chord that rub against a sounding one
    bool little_new = true;  ///< all that they bring is of the key's scale, or a colour on the same root
    /// Per superimposed chord, where it may last least: how many of its new tones rub, how many are new.
    struct Rubbing {
        int rubs = 0;
        int fresh = 0;
        Time length;  ///< for so long it lies over the chord on which it rubs
    };
    std::vector<Rubbing> rubbing;
    std::string sentence;  ///< "Db7 over G7: new are Db (#11) and Ab (b9); F and B stay."
};

/// Judges the tones of each chord of `superimposed` against the chords of `sounding` that go on in its time,
/// chord by chord: which are new there, which stay (spelled as they sound already), which rub and on what. A
/// tone rubs when it is no chord tone and no available tension of the sounding chord, or lies a half step
/// above its bass where that is no dominant's. N.C. sounds nothing. Common practice, no source.
[[nodiscard]] SoundingVerdict against_the_bass(const std::vector<TimedChord>& sounding,
                                               const std::vector<TimedChord>& superimposed,
                                               const theory::Key& key);

/// Tones of `chord` that `sounding` has not, its bass included, in the chord's order.
[[nodiscard]] std::vector<theory::NoteName> tones_beyond(const theory::Chord& sounding,
                                                         const theory::Chord& chord);
/// As a player reads it: a double flat or sharp under its plain name.
[[nodiscard]] theory::NoteName readable(theory::NoteName name);
/// Up to level 3, for how many seconds a superimposed chord may rub so; nothing = as long as it likes, as
/// with one tone among others that do not rub. Where nothing else is new it is a leading tone of 1.1 seconds,
/// a half bar; two and more may pass for 2 seconds, a bar (common practice, no source).
[[nodiscard]] std::optional<double> longest_rub(SoundingVerdict::Rubbing rubbing);

/// How far outside so many rubbing tones are, 1..4: one is heard as passing, two lead outside, all are a
/// chord of another key.
[[nodiscard]] int level_of_rubs(int rubs);

}  // namespace relead::reharm
