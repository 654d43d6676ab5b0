// grammar/ideas.txt and grammar/aims.txt, compiler/reharm/ideas.cpp: what versions can be about and aim at.
#include "reharm/ideas.h"

#include <algorithm>
#include <set>

#include "rules/read_rules.h"
#include "support/catch.h"

using namespace relead;

TEST_CASE("every member of an idea is a rule or a family", "[reharm]") {
    std::set<std::string, std::less<>> known;
    for (const auto& rule : rules::built_in_rules().rules) known.insert({rule.name, rule.family});
    for (const auto& row : reharm::ideas_for(rules::built_in_rules())) {
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

TEST_CASE("changes state the idea that half of them and more serve", "[reharm]") {
    const auto& all = rules::built_in_rules();
    const auto ideas = reharm::ideas_for(all);
    struct Row {
        std::vector<std::pair<std::string, int>> uses;
        std::string idea;         ///< empty = none is stated
        std::string stated = "";  ///< by an earlier version
    };
    const Row rows[] = {
        {{{"tritone", 3}, {"sus-delay", 2}}, "substitutes"},
        {{{"tritone", 2}, {"related-ii", 2}}, "substitutes"},
        {{{"tritone", 1}, {"related-ii", 2}}, "two-fives"},
        // Of two that as many serve the one that is new; never a smaller one.
        {{{"tritone", 2}, {"related-ii", 2}}, "two-fives", "substitutes"},
        {{{"tritone", 2}, {"related-ii", 1}}, "substitutes", "substitutes"},
        {{}, ""},
        {{{"tritone", 1}}, "substitutes"},
        {{{"tritone", 1}, {"related-ii", 1}}, ""},  // each is another thing
        {{{"tritone", 1}, {"related-ii", 1}, {"backdoor-dominant", 1}, {"sus-delay", 1}}, ""},
        {{{"tritone", 2}, {"related-ii", 2}, {"backdoor-dominant", 1}}, ""},
    };
    for (const auto& row : rows) {
        std::vector<int> uses(all.rules.size(), 0);
        for (const auto& [name, count] : row.uses) {
            INFO(name);
            const auto* rule = all.find(name);
            REQUIRE(rule != nullptr);
            uses[static_cast<std::size_t>(rule - all.rules.data())] += count;
        }
        std::vector<std::size_t> stated;
        for (std::size_t idea = 0; idea < ideas.size(); ++idea) {
            if (ideas[idea].name == row.stated) stated.push_back(idea);
        }
        const auto lead = reharm::leading_idea(ideas, uses, stated);
        CHECK((lead.stated() ? ideas[lead.idea].name : "") == row.idea);
    }
}

TEST_CASE("a version is called after the parts of its idea that it has", "[reharm]") {
    const auto& all = rules::built_in_rules();
    const auto ideas = reharm::ideas_for(all);
    const auto title = [&](std::string_view idea, const std::vector<std::string>& names) {
        std::vector<std::size_t> used;
        for (const auto& name : names) {
            const auto* rule = all.find(name);
            REQUIRE(rule != nullptr);
            used.push_back(static_cast<std::size_t>(rule - all.rules.data()));
        }
        const auto found =
            std::find_if(ideas.begin(), ideas.end(), [&](const auto& one) { return one.name == idea; });
        REQUIRE(found != ideas.end());
        return found->title_for(used);
    };
    CHECK(title("suspensions", {"sus-delay", "bright-dominant"}) == "Suspensions and colours");
    CHECK(title("diminished", {"leading-tone-half-dim", "auxiliary-dim"}) ==
          "Diminished and half-diminished chords");
    CHECK(title("suspensions", {"bright-dominant"}) == "colours");
    CHECK(title("diminished", {"leading-tone-half-dim"}) == "half-diminished chords");  // its family is not
    CHECK(title("diminished", {"auxiliary-dim"}) == "diminished chords");
    CHECK(title("lines", {"tonic-pedal", "rising-bass"}) == "bass lines and pedals");
    CHECK(title("substitutes", {"tritone"}) == "Dominants from a half step above");  // of one part
}

TEST_CASE("every rule of an idea with parts belongs to one of them", "[reharm]") {
    const auto& all = rules::built_in_rules();
    for (const auto& idea : reharm::ideas_for(all)) {
        if (idea.part_titles.empty()) continue;
        for (std::size_t i = 0; i < all.rules.size(); ++i) {
            INFO(idea.name << ' ' << all.rules[i].name);
            CHECK((idea.part_of[i] >= 0) == idea.serves[i]);
        }
    }
}
