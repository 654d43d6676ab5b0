// Systems and pages: four bars a line where they fit, lines that keep the phrases of four together, a
// new line at each section, pickups not counted; eleven systems a page, six of two staves, three
// fewer with lyrics.
#pragma once

#include <vector>

#include "arrange/sheet_form.h"
#include "score/measure.h"

namespace relead::arrange {

struct PageCount {
    int pages = 1;
    int systems = 1;  ///< on the fullest page
};
/// Sets `before` of every measure.
PageCount lay_out(const SheetForm& form, std::vector<score::Measure>& measures, int staves = 1);

}  // namespace relead::arrange
