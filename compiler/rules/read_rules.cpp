#include "rules/read_rules.h"

#include <algorithm>
#include <map>
#include <string_view>

#include "rules/lower_rule.h"
#include "syntax/parse_rules.h"
#include "text/diagnose.h"
#include "tune/spot.h"

namespace relead::rules {
namespace {

/// Puts a rule into the set; says when it takes another's place. False when its name stands twice.
bool add(RuleSet& set, std::map<std::string, Span>& seen, Rule rule, text::Sink& sink) {
    const auto [first, fresh] = seen.emplace(rule.name, rule.span);
    if (!fresh) {
        sink.emit(text::Code::rules_name_twice, rule.span,
                  "There are two rules called " + rule.name + " in this text.");
        return false;
    }
    const auto old =
        std::find_if(set.rules.begin(), set.rules.end(), [&](const Rule& r) { return r.name == rule.name; });
    if (old == set.rules.end()) {
        set.rules.push_back(std::move(rule));
        return true;
    }
    sink.emit(text::Code::rules_replaces, rule.span,
              "This rule takes the place of the " + std::string(old->built_in ? "built-in" : "earlier") +
                  " rule " + rule.name + ".");
    *old = std::move(rule);
    return true;
}

bool is_blank_or_comment(std::string_view line) {
    const auto start = line.find_first_not_of(" \t");
    return start == std::string_view::npos || line.substr(start, 2) == "--";
}

bool begins_rule(std::string_view line) {
    const auto start = line.find_first_not_of(" \t");
    return start != std::string_view::npos && line.substr(start, 4) == "rule" &&
           (line.size() == start + 4 || line[start + 4] == ' ' || line[start + 4] == '\t');
}

/// Where the rule stands and its lines as written. Comments below its last line belong to what follows.
void keep_text(Rule& rule, const text::Source& source) {
    rule.file = source.name();
    rule.line = source.line_at(rule.span.begin);
    int end = rule.line + 1;
    while (end <= source.line_count() && !begins_rule(source.line(end))) ++end;
    while (end > rule.line + 1 && is_blank_or_comment(source.line(end - 1))) --end;
    for (int line = rule.line; line < end; ++line) rule.text += std::string(source.line(line)) + "\n";
}

}  // namespace

Outcome<RuleSet> read_rules(const text::Source& source, const RuleSet& base, const Limits& limits) {
    auto tree = syntax::parse_rules(source, limits);
    text::Sink sink(limits);
    const bool none = tree.value->rules.empty() && !has_errors(tree.diagnostics);
    sink.append(std::move(tree.diagnostics));
    if (none)
        sink.emit(text::Code::rules_none, Span{source.index(), 0, 0},
                  "There is no rule in this text; a rule starts with a line such as rule my-substitute.");
    RuleSet set = base;
    std::map<std::string, Span> seen;
    int added = 0;
    for (const auto& node : tree.value->rules) {
        auto rule = lower_rule(node, sink);
        if (!rule) continue;
        keep_text(*rule, source);
        if (add(set, seen, std::move(*rule), sink)) ++added;
    }
    Outcome<RuleSet> outcome{std::nullopt, sink.take()};
    if (added > 0 || (tree.value->rules.empty() && !has_errors(outcome.diagnostics)))
        outcome.value = std::move(set);
    return outcome;
}

std::string nearest_rule(const RuleSet& rules, std::string_view word) {
    std::vector<std::string> names;
    for (const auto& rule : rules.rules) {
        names.push_back(rule.name);
        if (std::find(names.begin(), names.end(), rule.family) == names.end()) names.push_back(rule.family);
    }
    return tune::nearest_of(word, names);
}

}  // namespace relead::rules
