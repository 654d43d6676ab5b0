// The written changes and versions of them as parts of one score over the same bars: melody on top, then a
// row of slashes with chord symbols for each, guide-tone lines on small staves where they are wished for, and
// the reasons below the system in which a change first stands. Parts of their own are what every reader of
// such files keeps apart.
#pragma once

#include <string>
#include <vector>

#include "arrange/row_part.h"
#include "score/score.h"

namespace relead::arrange {

struct CompareSheetWish {
    score::Paper paper = score::Paper::a4;
    bool guide_tones = false;
    std::string stamp;                   ///< of all versions, as printed
    std::vector<std::string> reasons;    ///< by the numbers of the rows' notes: the first is number 1
    std::vector<std::string> end_notes;  ///< paragraphs below the last system
};

/// `rows` as in report::Comparison, the written changes first; all tunes have the same sections and bars.
[[nodiscard]] score::Score compare_sheet(const tune::Tune& written, const std::vector<SheetRow>& rows,
                                         const CompareSheetWish& wish);

}  // namespace relead::arrange
