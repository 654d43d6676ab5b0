// One player's part of a tune, measure by measure.
#pragma once

#include <vector>

#include "arrange/lead_sheet.h"
#include "arrange/reading.h"
#include "arrange/sheet_form.h"

namespace relead::arrange {

struct BuiltPart {
    std::vector<score::Measure> measures;
    int pages = 1;
    int systems_a_page = 1;
};

/// Attributes, chord symbols, voices, marks and layout of a part that shows `form` as `reading` reads it.
[[nodiscard]] BuiltPart build_part(const tune::Tune& tune, const SheetForm& form, const Reading& reading,
                                   const SheetWish& wish);

}  // namespace relead::arrange
