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
    std::vector<std::string> threads;  ///< where the guide tones land, a sentence for each new chord
    std::string text;                  ///< the rule as written in its file
    std::string file;
    int line = 0;
};

/// Families in the order of the rules; inside a family by outside level, then by name.
[[nodiscard]] std::vector<RuleRow> rule_table(const rules::RuleSet& rules);
[[nodiscard]] RuleRow rule_row(const rules::Rule& rule);

}  // namespace relead::report
