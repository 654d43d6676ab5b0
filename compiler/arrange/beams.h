// Beams by the groups of the meter: half bars of eighths in 4/4 and 2/2, the bar of eighths in 2/4 and
// 3/4, else the beat; dotted beats in 6/8, 9/8, 12/8; the stated groups of 5/8, 7/8 and their like.
// Rests break a beam. Common practice, no source.
#pragma once

#include <vector>

#include "score/element.h"
#include "tune/meter.h"

namespace relead::arrange {

void set_beams(const tune::Meter& meter, Time length, std::vector<score::Element>& elements);

}  // namespace relead::arrange
