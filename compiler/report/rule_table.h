// The rules as neutral rows, by family and outside level.
#pragma once

#include <string>
#include <vector>

#include "rules/rule.h"

namespace relead::report {

struct RuleRow {
    std::string name;
    std::string title;
    std::string family;
    int outside = 1;
    std::string audience;  ///< "everybody", "band" or "soloist"
    std::string why;       ///< the sentence with its placeholders
    std::string source;
    std::string example;  ///< in numerals
    bool built_in = true;
};

/// Families in the order of the rules; inside a family by outside level, then by name.
[[nodiscard]] std::vector<RuleRow> rule_table(const rules::RuleSet& rules);
[[nodiscard]] RuleRow rule_row(const rules::Rule& rule);

}  // namespace relead::report
