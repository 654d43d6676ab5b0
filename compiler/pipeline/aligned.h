// Rows of a comparison as tunes of one shape, so that sheets can set them over the same bars.
#pragma once

#include <vector>

#include "arrange/row_part.h"
#include "pipeline/compare.h"

namespace relead::pipeline {

struct Aligned {
    tune::Tune written;
    /// False where every row has the written sections, repeats and endings: then the sheet has them too. True
    /// where some row has not: then one chorus is written out.
    bool unfolded = false;
    std::vector<arrange::SheetRow> rows;  ///< as many as the comparison has, the written one first
    std::vector<std::string> reasons;     ///< why each chord changed; rows that agree share a number, from 1
    std::vector<std::string> end_notes;   ///< what each row is about and its numbers; then notes on the form
};

[[nodiscard]] Aligned align(const Compared& compared);

/// Every section has the same name, bars, meters, repeats and endings, and they are played in the same order.
[[nodiscard]] bool same_shape(const tune::Tune& a, const tune::Tune& b);

}  // namespace relead::pipeline
