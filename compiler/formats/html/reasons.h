// The words of the listening page: for each version its idea, its numbers and the reason of every change.
#pragma once

#include <string>

#include "report/comparison.h"

namespace relead::formats::html {

[[nodiscard]] std::string reasons(const report::Comparison& comparison);
/// Version stamps and remarks at the foot of the page.
[[nodiscard]] std::string footer_text(const report::Comparison& comparison);

}  // namespace relead::formats::html
