#include "random_tunes.h"

#include <algorithm>
#include <map>
#include <set>
#include <vector>

#include "rules/read_rules.h"

namespace relead::testing {
namespace {

/// Moves that lead somewhere, so that rules have work.
std::string random_bars(std::mt19937& random, std::size_t count) {
    static const std::vector<std::vector<std::string>> moves{{"Dm7", "G7", "Cmaj7"},
                                                             {"Dm7 G7", "C6"},
                                                             {"D7", "G7", "Cmaj7"},
                                                             {"Em7b5 A7", "Dm7"},
                                                             {"A7", "Dm7", "G7"},
                                                             {"C7", "Fmaj7"},
                                                             {"G7", "Cmaj7"},
                                                             {"E7", "Am7"},
                                                             {"Am7 D7", "G7"},
                                                             {"Fm7 Bb7", "Cmaj7"},
                                                             {"Cmaj7!"},
                                                             {"G7 G7", "C7"},
                                                             {"Em7 A7", "Dm7 G7", "C6"},
                                                             {"Em7", "A7", "Dm7!"},
                                                             {"Dm7 G7!", "Cmaj7"},
                                                             {"Am7", "Dm7", "G7"},
                                                             {"Em7 A7", "Dm7", "G7"}};
    std::vector<std::string> bars;
    while (bars.size() < count) {
        const auto& move = moves[roll(random, static_cast<unsigned>(moves.size()))];
        bars.insert(bars.end(), move.begin(), move.end());
    }
    bars.resize(count);
    std::string row;
    for (const auto& bar : bars) row += " | " + bar;
    return row;
}

std::string random_budget(std::mt19937& random) {
    const unsigned budget = roll(random, 6);
    if (budget < 2) return "  at most " + std::to_string(1 + roll(random, 2)) + " changes in each section\n";
    if (budget < 5) return "  at most " + std::to_string(2 + roll(random, 3)) + " changes in the tune\n";
    return {};
}

}  // namespace

unsigned roll(std::mt19937& random, unsigned sides) {
    return static_cast<unsigned>(random() % sides);
}

std::string random_tune(std::mt19937& random) {
    const auto bars = [&](unsigned least, unsigned range) {
        return random_bars(random, least + roll(random, range));
    };
    const auto ending = [&] { return bars(1, 1).substr(2); };
    std::string text = "tune \"Random\"\nkey C major\nmeter 4/4\ntempo 120\n";
    const unsigned shape = roll(random, 4);
    if (shape == 0) {
        text += "form A\nsection A\nchanges" + bars(6, 7) + " |\n";
    } else if (shape == 1) {
        text += "form A A B A\nsection A\nchanges" + bars(3, 4) + " |\n";
        text += "section B\nchanges" + bars(2, 4) + " |\n";
    } else if (shape == 2) {
        text += "form A B A\nsection A\nchanges" + bars(3, 3);
        text += " | [1" + ending();
        text += " ] [2" + ending() + " ] |\n";
        text += "section B\nchanges" + bars(2, 3) + " |\n";
    } else {
        text += "form A A B\nsection A\nchanges" + bars(3, 3) + " |\n";
        text += "section B\nchanges" + bars(3, 4) + " |\n";
    }
    return text + "plan \"p\" for band\n  outside 4\n" + random_budget(random);
}

rules::RuleSet some_rules(std::mt19937& random) {
    static const std::vector<std::string> others{
        "backdoor-dominant",        "half-diminished-two", "four-for-two",        "extended-dominants",
        "passing-dim-for-dominant", "half-step-two-five",  "substitute-two-five", "planed-minor-sevenths",
        "minor-two-five",           "related-ii",          "related-ii-minor",    "leading-tone-dim"};
    std::set<std::string> names{"tritone", "backdoor", "related-ii-of-substitute"};
    for (const auto& name : others) {
        if (roll(random, 2) == 0) names.insert(name);
    }
    rules::RuleSet some;
    for (const auto& rule : rules::built_in_rules().rules) {
        if (names.count(rule.name) > 0) some.rules.push_back(rule);
    }
    return some;
}

reharm::Pool with_random_costs(reharm::Pool pool, std::mt19937& random) {
    constexpr int most_on_a_chord = 4;
    std::shuffle(pool.placements.begin(), pool.placements.end(), random);
    std::map<int, int> count;
    pool.placements.erase(std::remove_if(pool.placements.begin(), pool.placements.end(),
                                         [&](const reharm::Judged& judged) {
                                             return ++count[judged.placement.begin] > most_on_a_chord;
                                         }),
                          pool.placements.end());
    for (auto& judged : pool.placements)
        judged.verdict.cost = -6 - static_cast<int>(roll(random, 8)) - 4 * judged.touched;
    return pool;
}

}  // namespace relead::testing
