#include "rules/rule.h"

#include <string_view>

namespace relead::rules {

const Rule* RuleSet::find(std::string_view name) const {
    for (const auto& rule : rules) {
        if (rule.name == name) return &rule;
    }
    return nullptr;
}

bool RuleSet::knows(std::string_view word) const {
    for (const auto& rule : rules) {
        if (rule.name == word || rule.family == word) return true;
    }
    return false;
}

}  // namespace relead::rules
