#include "report/rule_table.h"

#include <algorithm>
#include <cstddef>
#include <map>
#include <string_view>
#include <tuple>

namespace relead::report {

RuleRow rule_row(const rules::Rule& rule) {
    constexpr std::string_view audiences[] = {"everybody", "band", "soloist"};
    return {rule.name,
            rule.title,
            rule.family,
            rule.outside,
            std::string(audiences[static_cast<std::size_t>(rule.audience)]),
            rule.why,
            rule.source,
            rule.example,
            rule.built_in};
}

std::vector<RuleRow> rule_table(const rules::RuleSet& rules) {
    std::map<std::string, std::size_t> family_order;
    std::vector<RuleRow> rows;
    for (const auto& rule : rules.rules) {
        family_order.emplace(rule.family, family_order.size());
        rows.push_back(rule_row(rule));
    }
    std::stable_sort(rows.begin(), rows.end(), [&](const RuleRow& a, const RuleRow& b) {
        return std::tuple(family_order.at(a.family), a.outside, std::string_view(a.name)) <
               std::tuple(family_order.at(b.family), b.outside, std::string_view(b.name));
    });
    return rows;
}

}  // namespace relead::report
