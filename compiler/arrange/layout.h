// Systems and pages: four bars a line where they fit, a new line at each section, pickups apart,
// later endings on a line of their own when the line before is full; eleven systems a page.
#pragma once

#include <vector>

#include "arrange/sheet_form.h"
#include "score/measure.h"

namespace relead::arrange {

/// Sets `before` of every measure and returns the number of pages.
int lay_out(const SheetForm& form, std::vector<score::Measure>& measures);

}  // namespace relead::arrange
