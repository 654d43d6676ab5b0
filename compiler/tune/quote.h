// Quoted texts of the tune language: `\"` and `\\` are the only escapes.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace relead::tune {

[[nodiscard]] std::string quoted(std::string_view text);
/// Reads the quoted text at the front and removes it; nothing (and no change) when there is none.
[[nodiscard]] std::optional<std::string> unquote_front(std::string_view& text);

}  // namespace relead::tune
