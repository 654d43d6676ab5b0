// <direction>: rehearsal marks, words, tempo, and the signs of the form. A jump carries its sign, its
// words and its <sound> attribute in one direction, since readers look for them together.
#pragma once

#include "formats/musicxml/part_state.h"

namespace relead::formats {

void write_direction(PartState& state, const score::Direction& direction);

}  // namespace relead::formats
