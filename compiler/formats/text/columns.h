// Text in columns, measured as a terminal shows it (wide characters, combining marks).
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace relead::formats::text {

/// The text followed by blanks up to `width` columns.
[[nodiscard]] std::string pad(std::string_view text, int width);
/// Widest cell of each column.
[[nodiscard]] std::vector<int> column_widths(const std::vector<std::vector<std::string>>& rows);
/// Words broken into lines of at most `width` columns, each after `indent` blanks.
[[nodiscard]] std::string wrap(std::string_view text, int indent, int width);

}  // namespace relead::formats::text
