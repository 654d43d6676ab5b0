// The texts of grammar/rules/*.rules, put into the program when it is built (embed_rules.cmake).
#pragma once

#include <span>
#include <string_view>

namespace relead::rules {

struct EmbeddedText {
    std::string_view name;  ///< "grammar/rules/tritone.rules"
    std::string_view text;
};
[[nodiscard]] std::span<const EmbeddedText> embedded_rules();

}  // namespace relead::rules
