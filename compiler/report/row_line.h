// One row of a comparison as a line of chords in time, from the start of the chorus.
#pragma once

#include <string>
#include <vector>

#include <relead/fraction.h>

#include "report/comparison.h"
#include "tune/tune.h"

namespace relead::report {

/// A chord of a row where it sounds.
struct LineChord {
    Time start;
    Time length;
    theory::Chord chord;
    tune::ChordRef ref;  ///< in the row's own tune; for a soloist's bar in the soloist's own row
    Time in_section;     ///< from the start of that section as written
    tune::Push push = tune::Push::none;
    [[nodiscard]] Time end() const { return start + length; }
};

/// One bar of the chorus of a row.
struct LineBar {
    Time start;
    Time length;
    int section = 0;
    int bar = 0;  ///< index into Section::bars
    int playing = 0;
};

struct RowLine {
    std::vector<LineChord> chords;
    std::vector<LineBar> bars;
    Time pickup;  ///< its length; 0 without one
    Time length;
    bool soloist = false;  ///< chords are what the soloist plays over the changes
};

/// One chorus of `tune`. The soloist's row is taken where the tune has one that `written` has not.
[[nodiscard]] RowLine row_line(const tune::Tune& tune, const tune::Tune& written);
/// One chorus as the soloist plays it: the soloist's row where the tune has one, the changes elsewhere.
[[nodiscard]] RowLine soloist_line(const tune::Tune& tune);

/// Start of a bar in its section as written.
[[nodiscard]] Time start_in_section(const tune::Section& section, int bar);

/// The chord that sounds at `at`, or null.
[[nodiscard]] const LineChord* sounding_at(const RowLine& line, Time at);

}  // namespace relead::report
