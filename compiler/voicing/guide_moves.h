// What a guide-tone line does: how its voices move, and whether the tones that want to go somewhere went
// there.
#pragma once

#include <string_view>
#include <vector>

#include "theory/guide_motion.h"
#include "voicing/guide_line.h"

namespace relead::voicing {

/// Moves of single voices; two for each change of chord.
struct MoveCounts {
    int held = 0;
    int step = 0;  ///< 1-2 semitones
    int skip = 0;  ///< 3-4
    int leap = 0;  ///< above
    [[nodiscard]] int total() const { return held + step + skip + leap; }
    friend bool operator==(const MoveCounts&, const MoveCounts&) = default;
};

/// A tone of a dominant that pulls towards a tone of the chord that it falls to. Judged by what sounds: B
/// and F pull towards C, whether G7 or Db7 (written Cb and F) holds them.
struct Tendency {
    enum class Tone { leading_tone, fourth };  ///< against the root of the target
    enum class Outcome {
        resolved,  ///< leading tone held, up a half step, or down a step; fourth down a step
        delayed,   ///< the fourth is held: a suspension
        left,      ///< neither: it went somewhere else
    };
    Tone tone = Tone::leading_tone;
    Outcome outcome = Outcome::resolved;
    int semitones = 0;  ///< how its voice moved, signed
};
/// "leading tone", "fourth"; "resolved", "delayed", "left".
[[nodiscard]] std::string_view to_string(Tendency::Tone tone);
[[nodiscard]] std::string_view to_string(Tendency::Outcome outcome);

/// The two tendency tones where `x` holds the tritone of `y`'s root as its third and seventh (its dominant or
/// the dominant's tritone substitute); else empty. Published rule: Open Music Theory v2, "ii–V–I" (7 falls to
/// 3, 3 holds as 7) and "Substitutions" (the substitute shares both tones).
[[nodiscard]] std::vector<Tendency> tendencies(const theory::Chord& x, const GuidePair& at_x,
                                               const theory::Chord& y, const GuidePair& at_y);

/// One chorus as played, the turn into the next one included. Only where the chord changes; where N.C.
/// stands, nothing moves.
struct LineReport {
    MoveCounts moves;
    int tendency_tones = 0;
    int resolved = 0;
    int delayed = 0;
    bool exact = true;
};
[[nodiscard]] LineReport report_line(const ChordWalk& walk, const GuideLine& line);
/// Of the line that guide_line finds.
[[nodiscard]] LineReport report_line(const tune::Tune& tune, ChordRow row = ChordRow::changes);

}  // namespace relead::voicing
