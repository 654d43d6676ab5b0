#include "reharm/ideas.h"

#include <algorithm>

#include "reharm/tables/ideas.h"

namespace relead::reharm {
namespace {

bool serves(const tables::IdeaRow& row, std::string_view rule, std::string_view family) {
    return std::any_of(row.members.begin(), row.members.end(),
                       [&](std::string_view member) { return member == rule || member == family; });
}

}  // namespace

std::vector<Idea> ideas_for(const rules::RuleSet& rules) {
    std::vector<Idea> ideas;
    for (const auto& row : tables::idea_rows) {
        Idea idea{row.name, row.title, {}};
        for (const auto& rule : rules.rules) idea.serves.push_back(serves(row, rule.name, rule.family));
        ideas.push_back(std::move(idea));
    }
    return ideas;
}

std::vector<IdeaName> idea_names() {
    std::vector<IdeaName> names;
    for (const auto& row : tables::idea_rows)
        names.push_back({row.name, row.title, row.goals == "told", {row.members.begin(), row.members.end()}});
    return names;
}

bool serves_idea(std::string_view name, std::string_view rule, std::string_view family) {
    return std::any_of(std::begin(tables::idea_rows), std::end(tables::idea_rows),
                       [&](const auto& row) { return row.name == name && serves(row, rule, family); });
}

}  // namespace relead::reharm
