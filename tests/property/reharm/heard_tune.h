// What sounds in a tune, read from the tune alone: chords and melody in their time, which written chord a
// chord is, and what breaks a limit when a version is held against the tune that it came from. Nothing here
// asks the search or its report.
#pragma once

#include <string>
#include <vector>

#include "rules/rule.h"
#include "tune/tune.h"

namespace relead::testing {

/// A chord in its time from the start of its section's text; the same chord over a bar line is one.
struct HeardChord {
    theory::Chord chord;
    Time start;
    Time length;
    [[nodiscard]] Time end() const { return start + length; }
};

/// The row that is played: the soloist's where one stands, for a soloist, else the changes.
[[nodiscard]] const std::vector<tune::ChordEvent>& played_row(const tune::Bar& bar, bool soloist);
/// The tune with the soloist's chords as its changes.
[[nodiscard]] tune::Tune as_played(tune::Tune tune, bool soloist);

/// A version beside the tune that it came from, bar by bar alike.
struct SideBySide {
    const tune::Tune& written;
    const tune::Tune& played;  ///< as_played
};

/// One thing that a version does and a plan forbids, in words for whoever reads the failing test.
struct Breach {
    std::string what;
};

/// What was looked at, so that a test can prove that there was something to see.
struct LimitTally {
    int arrivals = 0, by_threads = 0;  ///< guide tones of new chords; those that only declared threads allow
    int notes = 0, clashes = 0;        ///< melody notes over new chords; those that clash newly
    int clocked = 0;                   ///< new chords shorter than any written one of their section
    int superimposed = 0,
        rubbing = 0;  ///< new chords over a written one; those with two foreign tones or more
};

/// Guide tones of a new chord that neither hold nor step into what may follow, and do so by none of the
/// threads of `makers`, the rules that made the version.
[[nodiscard]] std::vector<Breach> far_arrivals(const SideBySide& tunes,
                                               const std::vector<const rules::Rule*>& makers,
                                               LimitTally& tally);
/// Melody notes over new chords that are foreign to them, were not to the written ones and do not go by.
[[nodiscard]] std::vector<Breach> new_clashes(const SideBySide& tunes, LimitTally& tally);
/// New chords of less than `seconds`, but for those as long as some chord that the author writes there.
[[nodiscard]] std::vector<Breach> too_short(const SideBySide& tunes, double seconds, LimitTally& tally);
/// New chords with more tones foreign to the written chord below than `outside` allows a soloist.
[[nodiscard]] std::vector<Breach> too_far_from_the_bass(const SideBySide& tunes, int outside,
                                                        LimitTally& tally);

}  // namespace relead::testing
