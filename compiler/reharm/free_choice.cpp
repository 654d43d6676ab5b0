#include "reharm/free_choice.h"

#include <algorithm>

#include "reharm/aims.h"
#include "reharm/cost_terms.h"

namespace relead::reharm {
namespace {

/// Paths looked at under one set of weights.
constexpr std::size_t paths_tried = 48;
/// Sets of weights tried for an idea: at first, and for the ideas that come out best.
constexpr int tries_at_first = 1, tries_for_the_best = 4;
constexpr std::size_t ideas_refined = 3;

}  // namespace

FreeChoice::FreeChoice(const Situation& situation, const std::vector<Judged>& placements,
                       const TuneLattice& lattice, const LatticeGraph& graph)
    : situation_(situation),
      graph_(graph),
      effects_(situation, placements, lattice, graph),
      ideas_(ideas_for(situation.rules)),
      any_{"any", "", false, {}, std::vector<bool>(situation.rules.rules.size(), true)},
      used_(ideas_.size() + 1, false),
      misfit_(situation, effects_, ideas_, usual_count()) {}

/// Written chords that the cheapest choice touches.
int FreeChoice::usual_count() const {
    if (!situation_.plan.plan.at_most) return 0;
    const auto cheapest = best_path(graph_.graph);
    return cheapest ? effects_.touched(*cheapest) : 0;
}

std::optional<GraphPath> FreeChoice::next() {
    auto found = candidates();
    if (found.empty()) return std::nullopt;
    auto& best = found.front();
    if (misfit_.heard_before(best.path)) return std::nullopt;
    misfit_.remember(best.path);
    used_[best.idea] = best.idea < ideas_.size();
    return std::move(best.path);
}

/// The best of each idea, the best first.
std::vector<FreeChoice::Candidate> FreeChoice::candidates() const {
    std::vector<Candidate> found;
    for (std::size_t idea = 0; idea <= ideas_.size(); ++idea) {
        if (used_[idea] || !has_room(idea)) continue;
        if (auto best = best_for(idea, tries_at_first)) found.push_back(std::move(*best));
    }
    std::stable_sort(found.begin(), found.end(), better);
    for (std::size_t i = 0; i < std::min(ideas_refined, found.size()); ++i) {
        if (found[i].misfit == 0) continue;
        if (auto again = best_for(found[i].idea, tries_for_the_best); again && better(*again, found[i]))
            found[i] = std::move(*again);
    }
    std::stable_sort(found.begin(), found.end(), better);
    return found;
}

bool FreeChoice::better(const Candidate& a, const Candidate& b) {
    const double point = aim("point") * cost_scale;
    const auto price = [&](const Candidate& c) { return static_cast<double>(c.cost) + point * c.misfit; };
    return price(a) < price(b);
}

bool FreeChoice::has_room(std::size_t idea) const {
    if (idea == ideas_.size()) return true;
    int places = 0;
    for (const auto& effect : effects_.effects()) {
        if (effect.judged != nullptr) places += ideas_[idea].serves[effect.rule()] ? 1 : 0;
    }
    return places > 1;
}

std::int64_t FreeChoice::extra_cost(const Effect& effect, const Weights& weights, std::size_t number) const {
    std::int64_t sum = std::int64_t{weights.change} * effect.changed;
    if (effect.judged == nullptr) return sum;
    // Far outside it is an exception, not a sin.
    constexpr int inside = 3;
    const int other_function = weight("other-function") / (situation_.plan.ceiling > inside ? 4 : 1);
    int steps = idea(number).serves[effect.rule()] ? 0 : weight("other-idea");
    steps += other_function * effect.lost;
    for (const auto& applied : effect.judged->placement.derivation)
        steps += weights.rules[static_cast<std::size_t>(applied.rule)];
    sum += std::int64_t{cost_scale} * steps * effect.plays;
    const auto& grid = effects_.grid();
    for (const auto& earlier : misfit_.earlier()) {
        for (const auto& cell : effect.cells) {
            const auto at = static_cast<std::size_t>(cell.cell);
            const bool again = cell.sound == earlier[at] && cell.sound != grid.as_written()[at];
            if (again) sum += std::int64_t{weights.again} * grid.plays(cell.cell);
        }
    }
    return sum;
}

Surcharge FreeChoice::surcharge(const Weights& weights, std::size_t idea) const {
    Surcharge extra;
    for (const auto& effect : effects_.effects()) extra.push_back(extra_cost(effect, weights, idea));
    return extra;
}

/// The least weight that keeps the dose below its most; the more weight, the less changes. Where the plan
/// counts changes the lattice keeps the count.
int FreeChoice::weight_for(Weights weights, std::size_t idea) const {
    if (situation_.plan.plan.at_most) return 0;
    int low = -12 * cost_scale, high = 24 * cost_scale;
    while (low < high) {
        weights.change = low + (high - low) / 2;
        const auto path = best_path(graph_.graph, surcharge(weights, idea));
        if (path && effects_.changed(*path) > misfit_.most_changed()) {
            low = weights.change + 1;
        } else {
            high = weights.change;
        }
    }
    return low;
}

/// What a candidate costs without the weight of its dose.
std::int64_t FreeChoice::plain_cost(const Candidate& candidate, Weights weights) const {
    weights.change = weights.again = 0;
    std::fill(weights.rules.begin(), weights.rules.end(), 0);
    const auto extra = surcharge(weights, candidate.idea);
    std::int64_t sum = 0;
    for (const auto arc : candidate.path.arcs) {
        const auto& chosen = graph_.graph.arcs[arc];
        sum += chosen.cost.cost + (chosen.label < 0 ? 0 : extra[static_cast<std::size_t>(chosen.label)]);
    }
    return sum;
}

std::optional<FreeChoice::Candidate> FreeChoice::best_for(std::size_t number, int tries) const {
    Weights weights;
    weights.rules.resize(situation_.rules.rules.size(), 0);
    weights.again = weight("same-again") * cost_scale / 2;
    std::optional<Candidate> best;
    for (int t = 0; t < tries; ++t) {
        weights.change = weight_for(weights, number);
        const auto extra = surcharge(weights, number);
        std::optional<int> often;  // in the cheapest path
        for (auto& path : best_paths(graph_.graph, paths_tried, extra)) {
            // Of a counted plan there may be few versions: what is heard already takes nobody's place.
            if (situation_.plan.plan.at_most && misfit_.heard_before(path)) continue;
            const auto measure = misfit_.of(path, idea(number));
            if (!often) often = measure.often;
            if (best && measure.points >= best->misfit) continue;
            best = Candidate{std::move(path), number, measure.points, 0};
        }
        if (!best || best->misfit == 0) break;
        if (often.value_or(-1) >= 0) weights.rules[static_cast<std::size_t>(*often)] += weight("repeated");
        weights.again += weight("same-again") * cost_scale / 2;
    }
    if (best) best->cost = plain_cost(*best, weights);
    return best;
}

}  // namespace relead::reharm
