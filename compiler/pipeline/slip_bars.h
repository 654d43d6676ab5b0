// The bars of a change slip.
#pragma once

#include <vector>

#include "arrange/slip.h"
#include "pipeline/aligned.h"

namespace relead::pipeline {

/// The bars in which row `row` of the comparison differs from the written one, each once, in the order of the
/// sheet. Numbers are those of the measures on the row's own lead sheet where it has the written form.
[[nodiscard]] std::vector<arrange::SlipBar> slip_bars(const Compared& compared, const Aligned& aligned,
                                                      std::size_t row);

}  // namespace relead::pipeline
