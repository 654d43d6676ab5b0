#include "reharm/ideas.h"

#include <algorithm>
#include <numeric>

#include "reharm/aims.h"
#include "reharm/tables/idea_parts.h"
#include "reharm/tables/ideas.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

bool is_among(std::string_view name, const auto& members) {
    return std::find(members.begin(), members.end(), name) != members.end();
}

/// The part that names the rule, else the first that names its family; -1 for none.
int part_of(const rules::Rule& rule, const std::vector<const tables::IdeaPartRow*>& parts) {
    int part = -1;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (is_among(rule.name, parts[i]->rules)) return static_cast<int>(i);
        if (part < 0 && is_among(rule.family, parts[i]->rules)) part = static_cast<int>(i);
    }
    return part;
}

void add_parts(Idea& idea, const rules::RuleSet& rules) {
    std::vector<const tables::IdeaPartRow*> parts;
    for (const auto& row : tables::idea_part_rows) {
        if (row.idea == idea.name) parts.push_back(&row);
    }
    for (const auto* part : parts) idea.part_titles.push_back(part->title);
    for (const auto& rule : rules.rules) idea.part_of.push_back(part_of(rule, parts));
}

}  // namespace

std::string Idea::title_for(const std::vector<std::size_t>& rules) const {
    std::vector<std::string> found;
    for (std::size_t part = 0; part < part_titles.size(); ++part) {
        const bool there = std::any_of(rules.begin(), rules.end(), [&](std::size_t rule) {
            return part_of[rule] == static_cast<int>(part);
        });
        if (there) found.emplace_back(part_titles[part]);
    }
    const bool whole = found.empty() || found.size() == part_titles.size();
    return whole ? std::string(title) : tune::listed(found);
}

std::vector<Idea> ideas_for(const rules::RuleSet& rules) {
    std::vector<Idea> ideas;
    for (const auto& row : tables::idea_rows) {
        Idea idea{row.name, row.title, row.goals == "told", {row.members.begin(), row.members.end()}, {},
                  {},       {}};
        for (const auto& rule : rules.rules) {
            idea.serves.push_back(std::any_of(
                idea.members.begin(), idea.members.end(),
                [&](std::string_view member) { return member == rule.name || member == rule.family; }));
        }
        add_parts(idea, rules);
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
