// <measure>: print, left bar line, attributes, voices with their marks and chord symbols, right bar
// line. A chord symbol stands immediately before the note that starts with it; where none does, the
// writer goes back with <backup> and walks there with <forward>; never with <offset>, which
// independent readers ignore.
#pragma once

#include "formats/musicxml/part_state.h"

namespace relead::formats {

void write_measure(PartState& state, const score::Measure& measure, bool first);

}  // namespace relead::formats
