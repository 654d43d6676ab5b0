#include <cassert>

#include "rules/embedded_rules.h"
#include "rules/read_rules.h"

namespace relead::rules {
namespace {

RuleSet read_embedded() {
    RuleSet set;
    std::uint32_t index = 0;
    for (const auto& file : embedded_rules()) {
        const text::Source source(std::string(file.name), std::string(file.text), index++);
        auto outcome = read_rules(source, set);
        assert(outcome.clean() && "a built-in rule does not read; tests/unit/rules says which");
        if (outcome.value) set = std::move(*outcome.value);
    }
    for (auto& rule : set.rules) rule.built_in = true;
    return set;
}

}  // namespace

const RuleSet& built_in_rules() {
    static const RuleSet set = read_embedded();
    return set;
}

}  // namespace relead::rules
