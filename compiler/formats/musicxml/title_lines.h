// A title as it is printed: one line in the size that fills the page, two for long ones.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace relead::formats {

struct TitleLines {
    std::vector<std::string> lines;  ///< one or two; what two do not hold ends with "…"
    int size = 22;                   ///< points
};
[[nodiscard]] TitleLines title_lines(std::string_view title);

/// The beginning of `text` in at most `columns`, "…" included.
[[nodiscard]] std::string clipped(std::string_view text, int columns);

/// "Head · Solos · Head, last time" in lines of at most `columns`, the first of at most `first`, broken
/// between its items; the dot between two lines stays at the end of the upper one. A longer item has a line
/// of its own.
[[nodiscard]] std::vector<std::string> item_lines(std::string_view text, int first, int columns);

}  // namespace relead::formats
