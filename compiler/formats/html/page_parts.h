// The listening page's style and script, built into the program from page.css and page_*.js.
#pragma once

#include <string_view>

namespace relead::formats::html {

[[nodiscard]] std::string_view page_style();
[[nodiscard]] std::string_view page_script();
/// SHA-256 in base64, for the page's content-security policy.
[[nodiscard]] std::string_view style_hash();
[[nodiscard]] std::string_view script_hash();

}  // namespace relead::formats::html
