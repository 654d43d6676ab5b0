// One row of chords as a part of a sheet that sets several rows over the same bars: slashes and chord
// symbols, what changed marked.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "arrange/lead_sheet.h"
#include "arrange/part_builder.h"

namespace relead::arrange {

/// The number of a reason, small over the chord that it explains.
struct ChordNote {
    tune::ChordRef ref;
    int number = 1;
};

/// A row of chords. Its tune has the sections and bars of the written one; the chords to show stand in its
/// changes.
struct SheetRow {
    std::string name;
    tune::Tune tune;
    std::vector<ChangedChord> changed;
    std::vector<ChordNote> notes;
    bool soloist = false;  ///< over the written changes; the band does not play it
};

/// How a row is set.
struct RowWish {
    const theory::Instrument* instrument = nullptr;  ///< null = concert pitch in treble clef
    bool top = false;  ///< carries the marks that stand once in a system (rehearsal marks, tempo, signs)
    GuideTones guide_tones = GuideTones::none;
};

/// Measures of one part over `form`.
[[nodiscard]] std::vector<score::Measure> row_measures(const SheetRow& row, const SheetForm& form,
                                                       const RowWish& wish);

/// The melody alone, without chord symbols.
[[nodiscard]] std::vector<score::Measure> melody_measures(const tune::Tune& tune, const SheetForm& form);
/// Some bar of the tune has a melody.
[[nodiscard]] bool has_melody(const tune::Tune& tune);

}  // namespace relead::arrange
