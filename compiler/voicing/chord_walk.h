// The chords of a tune in the order of the text, cut into runs that are always played through, and the
// joints at which playing goes from one run to the next. A written chord is played in several places; what
// is decided for it (a voicing, a place of the guide tones) holds in all of them.
#pragma once

#include <vector>

#include "theory/chord.h"
#include "tune/tune.h"

namespace relead::voicing {

/// Which chords are followed: the changes, or the soloist's superimposed ones (a bar without them has the
/// changes).
enum class ChordRow { changes, soloist };

struct ChordWalk {
    /// Chords [first, last), played through in this order each time.
    struct Run {
        int first = 0;
        int last = 0;
        int plays = 1;  ///< in one chorus; 1 for what only another part of the performance plays
    };
    struct Joint {
        int from = 0, to = 0;  ///< runs; may be the same one
        int times = 1;
    };
    std::vector<theory::Chord> chords;
    std::vector<tune::ChordRef> refs;  ///< of each chord; for a soloist's bar `chord` indexes its own row
    std::vector<Run> runs;
    /// The turn from the end of a chorus to the next one is a joint like any other. What follows only in
    /// some other part of the performance counts once.
    std::vector<Joint> joints;
    std::vector<int> chorus;  ///< chords in the order in which one chorus plays them
};

[[nodiscard]] ChordWalk walk_chords(const tune::Tune& tune, ChordRow row = ChordRow::changes);
/// One run, played once; with `around` its end leads to its start.
[[nodiscard]] ChordWalk walk_chords(std::vector<theory::Chord> chords, bool around = false);

/// The chords of a bar in that row.
[[nodiscard]] const std::vector<tune::ChordEvent>& chords_in(const tune::Bar& bar, ChordRow row);

}  // namespace relead::voicing
