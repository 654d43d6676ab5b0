// compiler/reharm/search.cpp against trying everything: 5,000 small tunes of up to 12 bars with shared
// sections, endings, budgets, locks, stacked rules and versions that keep their distance. A version's cost is
// worked out here from the charts themselves, playing by playing, without the lattice.
#include <algorithm>
#include <map>
#include <random>
#include <set>

#include "reharm/lattice.h"
#include "reharm/pair.h"
#include "reharm/search.h"
#include "reharm/version_tune.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/unfold.h"

using namespace relead;
using reharm::Judged;

namespace {

constexpr unsigned seeds = 5000;

/// A few rules that overlap, stack, ask for neighbours and declare threads.
const rules::RuleSet& few_rules() {
    static const rules::RuleSet set = [] {
        const std::set<std::string> names{"tritone",    "backdoor",         "backdoor-dominant",
                                          "related-ii", "related-ii-minor", "related-ii-of-substitute"};
        rules::RuleSet few;
        for (const auto& rule : rules::built_in_rules().rules) {
            if (names.count(rule.name) > 0) few.rules.push_back(rule);
        }
        return few;
    }();
    return set;
}

unsigned roll(std::mt19937& random, unsigned sides) {
    return static_cast<unsigned>(random() % sides);
}

/// Moves that lead somewhere, so that rules have work.
std::vector<std::string> random_bars(std::mt19937& random, std::size_t count) {
    static const std::vector<std::vector<std::string>> moves{
        {"Dm7", "G7", "Cmaj7"},    {"Dm7 G7", "C6"},    {"D7", "G7", "Cmaj7"},
        {"Em7b5 A7", "Dm7"},       {"A7", "Dm7", "G7"}, {"C7", "Fmaj7"},
        {"G7", "Cmaj7"},           {"E7", "Am7"},       {"Am7 D7", "G7"},
        {"Fm7 Bb7", "Cmaj7"},      {"Cmaj7!"},          {"G7 G7", "C7"},
        {"Em7 A7", "Dm7 G7", "C6"}};
    std::vector<std::string> bars;
    while (bars.size() < count) {
        const auto& move = moves[roll(random, static_cast<unsigned>(moves.size()))];
        bars.insert(bars.end(), move.begin(), move.end());
    }
    bars.resize(count);
    return bars;
}

std::string random_tune(std::mt19937& random) {
    const auto bars = [&](unsigned count) {
        std::string row;
        for (const auto& bar : random_bars(random, count)) row += " | " + bar;
        return row;
    };
    std::string text = "tune \"Random\"\nkey C major\nmeter 4/4\ntempo 120\n";
    const unsigned shape = roll(random, 4);
    if (shape == 0) {
        text += "form A\nsection A\nchanges" + bars(4 + roll(random, 5)) + " |\n";
    } else if (shape == 1) {
        text += "form A A B A\nsection A\nchanges" + bars(2 + roll(random, 3)) + " |\nsection B\nchanges" +
                bars(2 + roll(random, 3)) + " |\n";
    } else if (shape == 2) {
        text += "form A B A\nsection A\nchanges" + bars(2 + roll(random, 2)) + " | [1" + bars(1).substr(2) +
                " ] [2" + bars(1).substr(2) + " ] |\nsection B\nchanges" + bars(1 + roll(random, 3)) + " |\n";
    } else {
        text += "form A A B\nsection A\nchanges" + bars(3 + roll(random, 2)) + " |\nsection B\nchanges" +
                bars(3 + roll(random, 3)) + " |\n";
    }
    text += "plan \"p\" for band\n  outside 3\n";
    const unsigned budget = roll(random, 5);
    if (budget == 1)
        text += "  at most " + std::to_string(1 + roll(random, 3)) + " changes in each section\n";
    if (budget == 2 || budget == 4)
        text += "  at most " + std::to_string(2 + roll(random, 4)) + " changes in the tune\n";
    return text;
}

/// Costs of their own, so that choices are close and neighbours matter.
reharm::Pool with_random_costs(reharm::Pool pool, std::mt19937& random) {
    for (auto& judged : pool.placements)
        judged.verdict.cost = 4 - static_cast<int>(roll(random, 6)) - 5 * judged.touched;
    return pool;
}

/// What one way of placing costs: placements over all playings, boundaries as often as they are played.
class Reckoning {
public:
    Reckoning(const reharm::Situation& situation, const reharm::Pool& pool)
        : situation_(situation), pool_(pool) {}

    /// Nothing when a limit is broken. `chosen` is in order and does not overlap.
    std::optional<std::int64_t> cost(const std::vector<int>& chosen) const {
        const auto& chart = situation_.chart;
        std::vector<int> owner(static_cast<std::size_t>(chart.size()), -1);
        std::map<int, int> spent;
        std::int64_t sum = 0;
        for (const int index : chosen) {
            const auto& judged = pool_.placements[static_cast<std::size_t>(index)];
            const auto& first = chart.at(judged.placement.begin);
            sum += std::int64_t{judged.verdict.cost} * first.playings;
            spent[situation_.plan.plan.at_most_per_section ? first.ref.section : 0] += judged.touched;
            for (int i = judged.placement.begin; i < judged.placement.end; ++i)
                owner[static_cast<std::size_t>(i)] = index;
        }
        for (const auto& [group, count] : spent) {
            if (situation_.plan.plan.at_most && count > *situation_.plan.plan.at_most) return std::nullopt;
        }
        // Everything that may follow must be allowed; what the chorus plays is paid as often as it is played.
        std::map<std::pair<int, int>, int> times;
        for (int i = 0; i < chart.size(); ++i) {
            for (const int next : chart.at(i).next) times[{i, next}] = 0;
        }
        const auto& order = chart.chorus;
        for (std::size_t k = 0; k < order.size(); ++k) ++times[{order[k], order[(k + 1) % order.size()]}];
        for (const auto& [pair, count] : times) {
            const int from = owner[static_cast<std::size_t>(pair.first)],
                      to = owner[static_cast<std::size_t>(pair.second)];
            // Inside one placement, and not round the whole of it.
            if (from >= 0 && from == to && pair.second == pair.first + 1) continue;
            const auto verdict = reharm::judge_pair(situation_.rules, end(pair.first, from, true),
                                                    end(pair.second, to, false));
            if (verdict.refusal) return std::nullopt;
            sum += std::int64_t{verdict.cost()} * std::max(1, count);
        }
        return sum;
    }

private:
    reharm::End end(int spot, int index, bool last) const {
        if (index < 0) return {&situation_.chart.at(spot).chord, nullptr};
        const auto& placement = pool_.placements[static_cast<std::size_t>(index)].placement;
        return {last ? &placement.chords.back().chord : &placement.chords.front().chord, &placement};
    }

    const reharm::Situation& situation_;
    const reharm::Pool& pool_;
};

/// All ways of placing, by their costs.
class Everything {
public:
    Everything(const reharm::Situation& situation, const reharm::Pool& pool)
        : pool_(pool), reckoning_(situation, pool), chart_(situation.chart) {
        go(0, {});
    }
    std::vector<std::pair<std::int64_t, std::vector<int>>> all;
    bool too_many = false;

private:
    void go(int spot, std::vector<int> chosen) {
        if (too_many) return;
        if (spot >= chart_.size()) {
            if (const auto cost = reckoning_.cost(chosen)) all.emplace_back(*cost, std::move(chosen));
            too_many = all.size() > 60'000;
            return;
        }
        go(spot + 1, chosen);
        for (std::size_t i = 0; i < pool_.placements.size(); ++i) {
            const auto& placement = pool_.placements[i].placement;
            if (placement.begin != spot) continue;
            auto more = chosen;
            more.push_back(static_cast<int>(i));
            go(placement.end, std::move(more));
        }
    }

    const reharm::Pool& pool_;
    Reckoning reckoning_;
    const rules::Chart& chart_;
};

/// How each written chord's time sounds.
std::vector<std::string> sound(const rules::Chart& chart,
                               const std::vector<const rules::Placement*>& placements) {
    std::vector<std::string> all;
    for (const auto& spot : chart.spots)
        all.push_back(theory::to_string(spot.chord, theory::SymbolStyle::plain) + "@0");
    for (const auto* placement : placements) {
        const auto start = chart.at(placement->begin).start;
        for (int i = placement->begin; i < placement->end; ++i) {
            std::string text;
            for (const auto& chord : placement->chords) {
                const auto from = std::max(start + chord.at, chart.at(i).start);
                if (from < chart.at(i).end() && start + chord.at + chord.length > chart.at(i).start)
                    text += theory::to_string(chord.chord, theory::SymbolStyle::plain) + "@" +
                            (from - chart.at(i).start).to_string();
            }
            all[static_cast<std::size_t>(i)] = text;
        }
    }
    return all;
}

int difference(const std::vector<std::string>& a, const std::vector<std::string>& b) {
    int count = 0;
    for (std::size_t i = 0; i < a.size(); ++i) count += a[i] != b[i] ? 1 : 0;
    return count;
}

std::vector<const rules::Placement*> pointers(const std::vector<Judged>& judged) {
    std::vector<const rules::Placement*> all;
    for (const auto& one : judged) all.push_back(&one.placement);
    return all;
}

/// The best one after the other, as long as nothing is broken: what the search must beat.
std::int64_t greedy(const reharm::Situation& situation, const reharm::Pool& pool) {
    const Reckoning reckoning(situation, pool);
    std::vector<int> chosen;
    auto cost = *reckoning.cost({});
    for (bool better = true; better;) {
        better = false;
        std::vector<int> best;
        for (std::size_t i = 0; i < pool.placements.size(); ++i) {
            auto more = chosen;
            more.push_back(static_cast<int>(i));
            std::sort(more.begin(), more.end(), [&](int a, int b) {
                return pool.placements[static_cast<std::size_t>(a)].placement.begin <
                       pool.placements[static_cast<std::size_t>(b)].placement.begin;
            });
            bool apart = true;
            for (std::size_t k = 0; k + 1 < more.size(); ++k)
                apart = apart && pool.placements[static_cast<std::size_t>(more[k])].placement.end <=
                                     pool.placements[static_cast<std::size_t>(more[k + 1])].placement.begin;
            if (!apart) continue;
            const auto reckoned = reckoning.cost(more);
            if (reckoned && *reckoned < cost) {
                cost = *reckoned;
                best = more;
                better = true;
            }
        }
        if (better) chosen = best;
    }
    return cost;
}

}  // namespace

TEST_CASE("versions are the best of everything that could be placed", "[search]") {
    unsigned solved = 0, second = 0, greedy_worse = 0, with_changes = 0, stacked = 0;
    for (unsigned seed = 1; seed <= seeds; ++seed) {
        std::mt19937 random(seed);
        const auto text = random_tune(random);
        const auto tune = testing::read_whole(text);
        const auto reading = testing::plain_reading(tune);
        const auto chart = rules::make_chart(tune, reading);
        auto plan = reharm::bind_plan(tune, few_rules(), {});
        REQUIRE(plan.value.has_value());
        const reharm::Situation situation{tune, chart, few_rules(), *plan.value};
        const auto pool = with_random_costs(reharm::build_pool(situation, {}), random);
        Everything everything(situation, pool);
        if (everything.too_many) continue;
        ++solved;
        std::stable_sort(everything.all.begin(), everything.all.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        reharm::SearchWish wish;
        wish.versions = 2;
        wish.least_difference = 1 + static_cast<int>(roll(random, 3));
        wish.dose = false;
        const auto result = reharm::search(situation, pool, wish);
        if (result.versions.empty()) FAIL("seed " << seed << "\n" << text);
        const auto& first = result.versions.front();
        if (first.cost != everything.all.front().first)
            FAIL("seed " << seed << ": " << first.cost << " is not " << everything.all.front().first << "\n"
                         << text);
        with_changes += first.placements.empty() ? 0 : 1;
        for (const auto& judged : first.placements) stacked += judged.placement.depth() > 1 ? 1 : 0;
        greedy_worse += greedy(situation, pool) > first.cost ? 1 : 0;

        const auto heard = sound(chart, pointers(first.placements));
        std::optional<std::int64_t> wanted;
        for (const auto& [cost, chosen] : everything.all) {
            std::vector<const rules::Placement*> placements;
            for (const int index : chosen)
                placements.push_back(&pool.placements[static_cast<std::size_t>(index)].placement);
            if (difference(heard, sound(chart, placements)) < wish.least_difference) continue;
            wanted = cost;
            break;
        }
        if (wanted.has_value() != (result.versions.size() == 2))
            FAIL("seed " << seed << ": second version\n" << text);
        if (!wanted) continue;
        ++second;
        if (result.versions[1].cost != *wanted)
            FAIL("seed " << seed << ": second " << result.versions[1].cost << " is not " << *wanted << "\n"
                         << text);
        if (difference(heard, sound(chart, pointers(result.versions[1].placements))) < wish.least_difference)
            FAIL("seed " << seed << ": too near\n" << text);
    }
    INFO(solved << " solved, " << second << " with a second version, greedy worse " << greedy_worse
                << ", stacked " << stacked);
    CHECK(solved > seeds * 9 / 10);
    CHECK(second > seeds / 2);
    CHECK(with_changes > seeds / 2);
    CHECK(stacked > 0);
    // Choosing one by one is worse in about one tune of twenty-three; tunes that tempt it more are to come.
    CHECK(greedy_worse >= solved / 50);
}
