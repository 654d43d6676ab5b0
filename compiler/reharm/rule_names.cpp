#include "reharm/rule_names.h"

#include <algorithm>
#include <string>

#include "rules/read_rules.h"

namespace relead::reharm {
namespace {

/// Every place of a plan where a rule or family is named.
std::vector<tune::RuleName> names_in(const tune::Plan& plan) {
    auto names = plan.use;
    names.insert(names.end(), plan.avoid.begin(), plan.avoid.end());
    for (const auto& take : plan.take) names.push_back(take.rule);
    for (const auto& never : plan.never) {
        if (never.rule) names.push_back(*never.rule);
    }
    return names;
}

bool only_built_in(const rules::RuleSet& rules) {
    return std::all_of(rules.rules.begin(), rules.rules.end(),
                       [](const rules::Rule& rule) { return rule.built_in; });
}

}  // namespace

std::vector<int> rules_called(const rules::RuleSet& rules, const tune::RuleName& name) {
    std::vector<int> found;
    for (std::size_t i = 0; i < rules.rules.size(); ++i) {
        if (rules.rules[i].name == name.name || rules.rules[i].family == name.name)
            found.push_back(static_cast<int>(i));
    }
    return found;
}

void tell_unknown_rule(const rules::RuleSet& rules, const tune::RuleName& name, text::Code code,
                       text::Sink& sink) {
    const bool may_be_own = code == text::Code::rule_not_built_in;
    const auto nearest = rules::nearest_rule(rules, name.name);
    auto sentence = std::string("There is no ") + (may_be_own ? "built-in " : "") +
                    "rule and no family called " + (name.name.empty() ? "\"\"" : name.name) + ".";
    if (!nearest.empty()) sentence += " Did you mean " + nearest + "?";
    // Where it is surely an error, a near name says enough.
    if (may_be_own || (nearest.empty() && only_built_in(rules) && !name.name.empty()))
        sentence += " If it is a rule of your own, name its file with --rules.";
    auto note = sink.emit(code, name.span, std::move(sentence));
    if (!nearest.empty() && name.span.end > name.span.begin) note.fix(name.span, nearest, "write " + nearest);
}

Diagnostics unknown_rule_names(const tune::Tune& tune, const rules::RuleSet& rules, text::Code code) {
    text::Sink sink;
    for (const auto& plan : tune.plans) {
        for (const auto& name : names_in(plan)) {
            if (rules_called(rules, name).empty()) tell_unknown_rule(rules, name, code, sink);
        }
    }
    return sink.take();
}

}  // namespace relead::reharm
