// A comparison as JSON.
#pragma once

#include <string>
#include <vector>

#include "report/comparison.h"

namespace relead::formats::json {

/// schemas/compare.schema.json: rows with their changes and numbers, the bars of one chorus with the chords
/// of every row (addresses such as "A:7.3"), notes, and the files written.
[[nodiscard]] std::string compare_document(const report::Comparison& comparison,
                                           const std::vector<std::string>& files);

}  // namespace relead::formats::json
