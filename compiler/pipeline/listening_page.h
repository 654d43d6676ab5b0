// A comparison as a page to listen to.
#pragma once

#include <string>

#include "pipeline/compare.h"

namespace relead::pipeline {

/// stem.compare.html: one file that plays from the disk.
[[nodiscard]] File listening_page(const Compared& compared, const std::string& stem);

}  // namespace relead::pipeline
