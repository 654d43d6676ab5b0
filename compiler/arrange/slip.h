// The change slip: only the bars that a version changes, each with its address, the new chords over slashes
// and the written ones small below. For a rehearsal, and for a player who knows the written tune.
#pragma once

#include <string>
#include <vector>

#include "arrange/lead_sheet.h"
#include "score/score.h"

namespace relead::arrange {

/// One bar of the slip.
struct SlipBar {
    std::string label;   ///< "A:7", "A:7 (time 2)"
    std::string number;  ///< of the measure on the lead sheet; "" = unknown
    tune::Bar bar;       ///< chords to show stand in its changes
    theory::Key key;     ///< in force
    std::vector<std::vector<theory::Chord>>
        was;               ///< per chord of the bar: what stood there; empty = as written
    bool follows = false;  ///< right after the bar before on the slip
};

struct SlipWish {
    const theory::Instrument* instrument = nullptr;  ///< null = concert pitch in treble clef
    score::Paper paper = score::Paper::a4;
    std::string version;  ///< name of the version
    std::string idea;     ///< what it is about, a sentence
    std::string stamp;
};

/// `tune` gives title, meter, tempo and the octave of the reading.
[[nodiscard]] score::Score change_slip(const tune::Tune& tune, const std::vector<SlipBar>& bars,
                                       const SlipWish& wish);

}  // namespace relead::arrange
