// Text of a tune as text of a page: whatever a title holds, it stays text.
#pragma once

#include <string>
#include <string_view>

namespace relead::formats::html {

/// & < > " ' as character references; characters that HTML does not allow become U+FFFD.
[[nodiscard]] std::string escape(std::string_view text);

}  // namespace relead::formats::html
