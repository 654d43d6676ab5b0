// <note>, <forward>: one element of a voice. The element order inside <note> is (grace | cue), chord,
// pitch or rest, duration, tie*, voice, type, dot*, accidental, time-modification, stem, notehead,
// staff, beam*, notations, lyric*. Readers get type, accidentals and beams spelled out: some draw
// none of their own.
#pragma once

#include "formats/musicxml/part_state.h"

namespace relead::formats {

/// All <note> elements of one element (several for a chord), or a <forward> for a gap.
void write_element(PartState& state, const score::Voice& voice, const score::Element& element);
/// <type> name of a notated value: "quarter", "16th".
[[nodiscard]] std::string_view type_name(const score::NoteValue& value);

}  // namespace relead::formats
