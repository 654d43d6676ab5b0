// The guide-tone line as a player reads it: two voices of long notes that change where the chord symbols
// stand. A pushed chord's tones are played with it and tied over the bar line.
#pragma once

#include <map>
#include <vector>

#include "arrange/harmony_row.h"
#include "arrange/lead_sheet.h"
#include "arrange/reading.h"
#include "arrange/symbols.h"
#include "voicing/guide_line.h"

namespace relead::arrange {

/// Which voice an element holds.
enum class GuideVoice { lower, upper, both };

/// From a moment of a bar on: the written pitches, or a rest where no chord sounds.
struct GuideMoment {
    Time at;
    bool sounds = false;
    theory::Pitch lower, upper;
    bool changed = false;    ///< under a chord that this version changed
    bool continues = false;  ///< the same chord as at the end of the bar before, held over
    bool goes_on = false;    ///< held over into the next bar
};
using GuideBars = std::vector<std::vector<GuideMoment>>;  ///< one list per measure, by time

/// How the player reads the line: concert readers in the treble clef that sounds an octave lower, others in
/// their own clef, in the octave that lies best.
[[nodiscard]] Reading guide_reading(const tune::Tune& tune, const Reading& reading,
                                    const voicing::ChordWalk& walk, const voicing::GuideLine& line,
                                    const theory::Instrument* instrument);

/// What the builder knows of the sheet.
struct GuidePage {
    const tune::Tune& tune;
    const SheetForm& form;
    const std::vector<std::vector<Symbol>>& symbols;
    const SymbolRows& rows;
    const std::vector<KeyReading>& keys;
    const Succession& succession;
    const SheetWish& wish;
};
struct GuideNotes {
    theory::Clef clef = theory::Clef::treble;
    GuideBars bars;
};
[[nodiscard]] GuideNotes guide_notes(const GuidePage& page, const Reading& reading);

/// A bar of one voice or of both; `silent` where a program that plays the sheet plays the melody alone.
/// `length` is the bar's.
[[nodiscard]] std::vector<score::Element> guide_elements(const std::vector<GuideMoment>& moments, Time length,
                                                         GuideVoice voice, bool silent);

}  // namespace relead::arrange
