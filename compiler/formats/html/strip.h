// One bar of one row as a picture: the time line with its beats, the symbols at their moments and the two
// guide-tone threads, which run on into the next bar where it stands beside this one.
#pragma once

#include <string>

#include "formats/html/symbol_ids.h"
#include "report/listening.h"

namespace relead::formats::html {

/// Heights between which all threads of the page run.
struct HeightRange {
    int low = 54;
    int high = 74;
};
[[nodiscard]] HeightRange height_range(const report::Listening& page);

/// The inline SVG of `row` in `bar` (an index into the comparison's bars).
[[nodiscard]] std::string bar_svg(const report::Listening& page, std::size_t bar, std::size_t row,
                                  const HeightRange& range, SymbolIds& symbols);

}  // namespace relead::formats::html
