#include "reharm/ideas.h"

#include <algorithm>
#include <numeric>

#include "reharm/aims.h"
#include "reharm/tables/ideas.h"

namespace relead::reharm {

std::vector<Idea> ideas_for(const rules::RuleSet& rules) {
    std::vector<Idea> ideas;
    for (const auto& row : tables::idea_rows) {
        Idea idea{row.name, row.title, row.goals == "told", {row.members.begin(), row.members.end()}, {}};
        for (const auto& rule : rules.rules) {
            idea.serves.push_back(std::any_of(
                idea.members.begin(), idea.members.end(),
                [&](std::string_view member) { return member == rule.name || member == rule.family; }));
        }
        ideas.push_back(std::move(idea));
    }
    return ideas;
}

int serving(const Idea& idea, const std::vector<int>& uses) {
    int sum = 0;
    for (std::size_t rule = 0; rule < uses.size(); ++rule) sum += idea.serves[rule] ? uses[rule] : 0;
    return sum;
}

bool IdeaShare::stated() const {
    return all > 0 && !stands_alone() && served * 100 >= aim("one-idea") * all;
}

bool IdeaShare::stands_alone() const {
    return served == 1 && all == 2;
}

IdeaShare leading_idea(const std::vector<Idea>& ideas, const std::vector<int>& uses,
                       const std::vector<std::size_t>& stated) {
    const auto is_fresh = [&](std::size_t idea) {
        return std::find(stated.begin(), stated.end(), idea) == stated.end();
    };
    IdeaShare lead{0, serving(ideas.front(), uses), std::accumulate(uses.begin(), uses.end(), 0)};
    for (std::size_t idea = 1; idea < ideas.size(); ++idea) {
        const int served = serving(ideas[idea], uses);
        const bool fresher = served == lead.served && is_fresh(idea) && !is_fresh(lead.idea);
        if (served > lead.served || fresher) lead = {idea, served, lead.all};
    }
    return lead;
}

}  // namespace relead::reharm
