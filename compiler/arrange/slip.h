// The change slip: only the bars that a version changes, each with its address, the written chords in a row
// over the new ones. For a rehearsal, and for a player who knows the written tune.
#pragma once

#include <string>
#include <vector>

#include "arrange/row_part.h"
#include "score/score.h"

namespace relead::arrange {

/// One bar of the slip.
struct SlipBar {
    std::string label;          ///< "A:7", "A:7 (time 2)"
    std::string number;         ///< of the measure on the lead sheet; "" = unknown
    tune::Bar written;          ///< as long as `bar`
    tune::Bar bar;              ///< chords to show stand in its changes
    theory::Key key;            ///< in force
    std::vector<bool> changed;  ///< per chord of the bar
    bool follows = false;       ///< right after the bar before on the slip
};

struct SlipWish {
    const theory::Instrument* instrument = nullptr;  ///< null = concert pitch in treble clef
    score::Paper paper = score::Paper::a4;
    std::string version;  ///< name of the version, for the heading
    std::string idea;     ///< what it is about, a sentence
    std::string stamp;
    bool soloist = false;  ///< it is for the soloist, over the written changes
};

/// `tune` gives title, tempo and the meter. As large as half a page allows.
[[nodiscard]] score::Score change_slip(const tune::Tune& tune, const std::vector<SlipBar>& bars,
                                       const SlipWish& wish);

}  // namespace relead::arrange
