// The bars of a change slip.
#pragma once

#include <vector>

#include "arrange/slip.h"
#include "pipeline/aligned.h"

namespace relead::pipeline {

/// The bars in which row `row` of the comparison differs from the written one, each once, in the order of the
/// sheet. Numbers are those of the measures on the compare sheet: the lead sheet's where all rows have its
/// form, else counted through one chorus written out.
[[nodiscard]] std::vector<arrange::SlipBar> slip_bars(const Compared& compared, const Aligned& aligned,
                                                      std::size_t row);

}  // namespace relead::pipeline
