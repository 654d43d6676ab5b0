// The shape of a section: its plain stretches, its repeats and their endings. What unfolding walks
// over and what the sheet brackets. Works on every section, also one with faulty signs.
#pragma once

#include <vector>

#include "tune/tune.h"

namespace relead::tune {

/// The bars [first, last) of one bracket. `passes` holds the numbers as written; 0 = `last`.
struct Ending {
    std::vector<int> passes;
    int first = 0;
    int last = 0;
    [[nodiscard]] bool takes(int pass) const;
    [[nodiscard]] bool takes_last() const { return takes(0); }
};

/// Bars [first, last) and then one of `endings`. Bar numbers are indices into Section::bars.
struct Passage {
    int first = 0;
    int last = 0;
    bool repeated = false;  ///< endings count the passes of this repeat; else the playings of the section
    bool opened = false;    ///< the repeat has its `|:`; otherwise it begins where the section does
    bool closed = false;    ///< a `:|` was met
    int times = 1;          ///< passes in all
    std::vector<Ending> endings;
};

/// All bars but the pickup, in order, each in exactly one passage.
[[nodiscard]] std::vector<Passage> passages(const Section& section);

}  // namespace relead::tune
