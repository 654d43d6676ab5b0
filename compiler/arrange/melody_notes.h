// The melody of one bar as written elements: values, tuplets, graces, slurs and lyrics as the tune has
// them; pitches strict and concert until the part is spelled. Ties, accidentals and beams follow when
// the whole part stands (arrange/ties.h, accidentals.h, beams.h).
#pragma once

#include <vector>

#include "score/element.h"
#include "tune/bar.h"

namespace relead::arrange {

/// Elements that fill `length`. Unknown stretches become slashes on `middle` of `beat` length each.
/// `lyrics` adds the bar's verses.
[[nodiscard]] std::vector<score::Element> melody_elements(const tune::Bar& bar, theory::Pitch middle,
                                                          bool lyrics);

/// Notated values that fill `length`, longest first: 5/8 is a half and an eighth.
[[nodiscard]] std::vector<score::NoteValue> values_of(Time length);

}  // namespace relead::arrange
