// What versions can be about: grammar/ideas.txt. A version that is chosen freely keeps to one idea.
#pragma once

#include <string_view>
#include <vector>

#include "rules/rule.h"

namespace relead::reharm {

struct Idea {
    std::string_view name;
    std::string_view title;    ///< "Dominants from a half step above"
    std::vector<bool> serves;  ///< per rule
};

/// Ideas in the order of the table, for the rules of `rules`.
[[nodiscard]] std::vector<Idea> ideas_for(const rules::RuleSet& rules);
struct IdeaName {
    std::string_view name;
    std::string_view title;
    bool tells_goals = false;               ///< a version's sentence says where its changes lead
    std::vector<std::string_view> members;  ///< rules and families
};
[[nodiscard]] std::vector<IdeaName> idea_names();
/// Whether a rule of this name and family serves the idea `name` of the table.
[[nodiscard]] bool serves_idea(std::string_view name, std::string_view rule, std::string_view family);

}  // namespace relead::reharm
