// What versions can be about: grammar/ideas.txt, and which idea some changes state.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "rules/rule.h"

namespace relead::reharm {

struct Idea {
    std::string_view name;
    std::string_view title;                 ///< "Dominants from a half step above"
    bool tells_goals = false;               ///< a version's sentence says where its changes lead
    std::vector<std::string_view> members;  ///< rules and families
    std::vector<bool> serves;               ///< per rule
    /// Where the idea is two things: their titles, and per rule the part that it belongs to, -1 for none.
    std::vector<std::string_view> part_titles;
    std::vector<int> part_of;
    /// What changes by these rules are called together: "suspensions and colours" where both are there.
    [[nodiscard]] std::string title_for(const std::vector<std::size_t>& rules) const;
};

/// Ideas in the order of the table, for the rules of `rules`.
[[nodiscard]] std::vector<Idea> ideas_for(const rules::RuleSet& rules);

/// The idea that some changes are about.
struct IdeaShare {
    std::size_t idea = 0;  ///< the first that most of them serve, a fresh one before others
    int served = 0;
    int all = 0;
    /// Enough of the changes serve it for a sentence to say so.
    [[nodiscard]] bool stated() const;
    /// Of two changes each serves another idea: neither is what the version is about.
    [[nodiscard]] bool stands_alone() const;
};
/// `uses`: per rule, how many changes end with it; `stated`: ideas of earlier versions, which give way to
/// others that as many changes serve. Precondition: there are ideas.
[[nodiscard]] IdeaShare leading_idea(const std::vector<Idea>& ideas, const std::vector<int>& uses,
                                     const std::vector<std::size_t>& stated = {});

/// How many changes end with a rule that serves the idea.
[[nodiscard]] int serving(const Idea& idea, const std::vector<int>& uses);

}  // namespace relead::reharm
