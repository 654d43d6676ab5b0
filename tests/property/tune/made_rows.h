// Random bars and their rows, for made_tune.cpp.
#pragma once

#include "property/tune/made_tune.h"

namespace relead::tune::testing {

/// Chords that fill the bar.
[[nodiscard]] std::vector<ChordEvent> make_chords(Dice& dice, const Bar& bar);
/// Notes, rests and triplets that fill the bar; at least one is a note or rest.
[[nodiscard]] std::vector<NoteEvent> make_notes(Dice& dice, Time length);
/// Fills a section's bars: all rows but its signs and endings.
void fill_rows(Dice& dice, Section& section);

}  // namespace relead::tune::testing
