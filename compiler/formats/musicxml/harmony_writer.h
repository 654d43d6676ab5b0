// <harmony>: a chord symbol. The element order is root, kind, bass, degree*, staff.
// Degrees that the kind does not contain are visible unless the symbol's text already says them
// (sus, alt); a visible degree carries an empty degree-type text, else readers print "add".
#pragma once

#include "formats/musicxml/part_state.h"

namespace relead::formats {

void write_harmony(PartState& state, const score::Harmony& harmony);

}  // namespace relead::formats
