// The listening page: one HTML file that holds everything and asks the network for nothing. It reads and
// prints without its script; with it, it plays.
#pragma once

#include <string>

#include "report/listening.h"

namespace relead::formats::html {

/// UTF-8. Everything that comes from a tune is escaped.
[[nodiscard]] std::string listening_page(const report::Listening& page);

}  // namespace relead::formats::html
