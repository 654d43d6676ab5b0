// <attributes> and <barline> of a measure.
#pragma once

#include "formats/musicxml/part_state.h"

namespace relead::formats {

/// Writes what changes in this measure; nothing when nothing does. Starts and stops slash regions.
void write_attributes(PartState& state, const score::Measure& measure, bool first);
void write_left_barline(PartState& state, const score::Measure& measure);
void write_right_barline(PartState& state, const score::Measure& measure);

}  // namespace relead::formats
