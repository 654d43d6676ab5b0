// grammar/ideas.txt, compiler/reharm/ideas.cpp: what versions can be about.
#include "reharm/ideas.h"

#include <algorithm>
#include <set>

#include "rules/read_rules.h"
#include "support/catch.h"

using namespace relead;

TEST_CASE("every member of an idea is a rule or a family", "[reharm]") {
    std::set<std::string, std::less<>> known;
    for (const auto& rule : rules::built_in_rules().rules) known.insert({rule.name, rule.family});
    for (const auto& row : reharm::idea_names()) {
        INFO(row.name);
        for (const std::string_view member : row.members) {
            INFO(member);
            CHECK(known.count(member) == 1);
        }
    }
}

TEST_CASE("every built-in rule serves an idea", "[reharm]") {
    const auto& all = rules::built_in_rules();
    const auto ideas = reharm::ideas_for(all);
    for (std::size_t i = 0; i < all.rules.size(); ++i) {
        INFO(all.rules[i].name);
        CHECK(std::any_of(ideas.begin(), ideas.end(), [&](const auto& idea) { return idea.serves[i]; }));
    }
}
