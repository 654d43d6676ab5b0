// What can be counted about a version: from its chords, the written tune and theory alone. Nothing here
// knows the costs with which versions are chosen.
#pragma once

#include <string>
#include <vector>

#include "analysis/analysis.h"
#include "bench/chorus.h"

namespace relead::bench {

struct Share {
    int good = 0;
    int all = 0;
    void count(bool is_good) {
        good += is_good ? 1 : 0;
        ++all;
    }
    [[nodiscard]] double value() const { return all == 0 ? 1.0 : static_cast<double>(good) / all; }
};

struct Measures {
    double dose = 0;           ///< share of the time that sounds otherwise than written
    Share starts;              ///< first chords of sections whose function is kept
    Share cadence;             ///< last home chord of the last chorus, the chord before it, its end
    Share guides;              ///< guide tones that hold or step where new meets unchanged
    Share outer;               ///< moves between strong beats where melody and bass do not go the same way
    Share outer_written;       ///< the same in the written tune
    Share roots;               ///< root moves that are not as written and fall a fifth or go by step
    int parallels = 0;         ///< three octaves or fifths in a row that the written tune has not
    int clashes = 0;           ///< held melody notes that clash and did not
    int crowded = 0;           ///< bars of more than two chords above tempo 200 that were not so written
    double median_symbol = 0;  ///< characters of the new symbols
    double median_on_c = 0;    ///< the same with every root of one letter
    int new_chords = 0;
    int root_moves = 0;  ///< moves to another root over the whole chorus
    int semitones = 0;   ///< that guide tones move at these
};

/// `analysis` of the written tune: local keys, for functions.
[[nodiscard]] Measures measure(const tune::Tune& written, const analysis::Analysis& analysis,
                               const tune::Tune& version);

/// True when `now` does in this key what `old` does: the same chord in other dress, a dominant from a tritone
/// away, a diminished chord that stands for its dominant, or a chord of the same family (tonic I iii vi,
/// subdominant ii IV, dominant V and vii).
[[nodiscard]] bool keeps_function(const theory::Chord& old, const theory::Chord& now, const theory::Key& key);

}  // namespace relead::bench
