#include "reharm/free_choice.h"

#include <algorithm>
#include <limits>
#include <map>
#include <numeric>

#include "reharm/aims.h"
#include "reharm/cost_terms.h"

namespace relead::reharm {
namespace {

/// Paths looked at under one set of weights.
constexpr std::size_t paths_tried = 48;
/// Sets of weights tried for an idea: at first, and for the ideas that come out best.
constexpr int tries_at_first = 1, tries_for_the_best = 4;
constexpr std::size_t ideas_refined = 3;
/// How much dearer a change of another idea is where a version is sought that has hardly any.
constexpr int much_dearer = 4;
/// When a version is bettered: replacements tried per place, of the idea and of all, and rounds.
constexpr int alternatives_tried = 8, rounds_tried = 4;
/// Half beats that are listened to for it: enough for a tune of some 64 bars, and no more for a longer one.
constexpr int half_beats_heard = 8'000'000;

std::vector<Exchange::Span> spans_of(const ChoiceEffects& effects, const LatticeGraph& graph,
                                     const TuneLattice& lattice) {
    std::vector<Exchange::Span> spans;
    for (std::size_t label = 0; label < graph.choices.size(); ++label) {
        const auto* judged = effects.effects()[label].judged;
        const int spot = lattice.meaning(graph.choices[label]).spot;
        spans.push_back(judged == nullptr
                            ? Exchange::Span{spot, spot + 1, true}
                            : Exchange::Span{judged->placement.begin, judged->placement.end, false});
    }
    return spans;
}

}  // namespace

FreeChoice::FreeChoice(const Situation& situation, const std::vector<Judged>& placements,
                       const TuneLattice& lattice, const LatticeGraph& graph)
    : situation_(situation),
      graph_(graph),
      effects_(situation, placements, lattice, graph),
      exchange_(graph.graph, spans_of(effects_, graph, lattice)),
      ideas_(ideas_for(situation.rules)),
      any_{"any", "", false, {}, std::vector<bool>(situation.rules.rules.size(), true), {}, {}},
      misfit_(situation, effects_, ideas_, usual_count()),
      round_moves_(effects_, misfit_.evenness()),
      most_lost_(fewest_lost()) {}

Misfit::Usual FreeChoice::usual_count() const {
    if (!situation_.plan.plan.at_most) return {};
    const auto cheapest = best_path(graph_.graph);
    if (!cheapest) return {};
    const auto uses = effects_.uses_of(*cheapest);
    return {effects_.touched(*cheapest), std::accumulate(uses.begin(), uses.end(), 0)};
}

/// How many kept places no version can keep, since the plan takes what stands there. Above level 3 all may
/// go.
int FreeChoice::fewest_lost() const {
    if (!stays_inside(situation_.plan.ceiling)) return std::numeric_limits<int>::max();
    constexpr std::int64_t above_all_costs = 1'000'000'000;
    Surcharge places;
    for (const auto& effect : effects_.effects()) places.push_back(above_all_costs * effect.lost);
    const auto path = best_path(graph_.graph, places);
    return path ? effects_.lost(*path) : 0;
}

double FreeChoice::Candidate::price() const {
    return static_cast<double>(cost) + price_of_points(misfit);
}

double FreeChoice::price_of_points(double points) {
    return aim("point") * cost_scale * points;
}

std::vector<FreeChoice::Candidate> FreeChoice::candidates() const {
    const auto cheaper = [](const Candidate& a, const Candidate& b) { return a.price() < b.price(); };
    std::vector<Candidate> found;
    for (std::size_t idea = 0; idea <= ideas_.size(); ++idea) {
        if (is_used(idea) || !has_room(idea)) continue;
        if (auto best = best_for(idea, tries_at_first)) found.push_back(std::move(*best));
    }
    std::stable_sort(found.begin(), found.end(), cheaper);
    for (std::size_t i = 0; i < std::min(ideas_refined, found.size()); ++i) {
        if (auto again = best_for(found[i].idea, tries_for_the_best); again && cheaper(*again, found[i]))
            found[i] = std::move(*again);
        polish(found[i]);
    }
    std::stable_sort(found.begin(), found.end(), cheaper);
    // Rather one version less than one that is heard as another tune.
    const auto is_none = [&](const Candidate& candidate) {
        return effects_.lost(candidate.path) > most_lost_ || misfit_.heard_before(candidate.path);
    };
    found.erase(std::remove_if(found.begin(), found.end(), is_none), found.end());
    return found;
}

double FreeChoice::price_of(const Candidate& candidate) const {
    auto next = candidate;
    next.misfit = measure(next.path, next.idea).points;
    next.cost = plain_cost(next.path, plain_surcharge(next.idea));
    return next.price();
}

Misfit::Measure FreeChoice::measure(const GraphPath& path, std::size_t number) const {
    heard_ += size();
    auto measure = misfit_.of(path, idea(number));
    // One that is heard as another tune is none, however well it meets the rest.
    constexpr double above_all_points = 1e6;
    if (effects_.lost(path) > most_lost_) measure.points += above_all_points;
    return measure;
}

void FreeChoice::take(const Candidate& candidate) {
    misfit_.remember(candidate.path);
    used_.push_back(candidate.idea);
}

void FreeChoice::take_back() {
    misfit_.forget();
    used_.pop_back();
}

/// The one that takes every rule serves any number of versions.
bool FreeChoice::is_used(std::size_t idea) const {
    return idea < ideas_.size() && std::find(used_.begin(), used_.end(), idea) != used_.end();
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
    int steps = idea(number).serves[effect.rule()] || effect.taken ? 0 : weights.other;
    steps += other_function(situation_.plan.ceiling) * effect.lost;
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
    // Only this weight is sought: all else is worked out once.
    weights.change = 0;
    const auto all_else = surcharge(weights, idea);
    const auto& effects = effects_.effects();
    int low = -12 * cost_scale, high = 24 * cost_scale;
    while (low < high) {
        const int change = low + (high - low) / 2;
        auto extra = all_else;
        for (std::size_t i = 0; i < extra.size(); ++i) extra[i] += std::int64_t{change} * effects[i].changed;
        const auto path = best_path(graph_.graph, extra);
        if (path && effects_.changed(*path) > misfit_.most_changed()) {
            low = change + 1;
        } else {
            high = change;
        }
    }
    return low;
}

/// Without the weights that make a version take its dose.
Surcharge FreeChoice::plain_surcharge(std::size_t idea) const {
    Weights weights;
    weights.other = weight("other-idea");
    weights.rules.resize(situation_.rules.rules.size(), 0);
    return surcharge(weights, idea);
}

std::int64_t FreeChoice::plain_cost(const GraphPath& path, const Surcharge& extra) const {
    std::int64_t sum = 0;
    for (const auto arc : path.arcs) {
        const auto& chosen = graph_.graph.arcs[arc];
        sum += chosen.cost.cost + (chosen.label < 0 ? 0 : extra[static_cast<std::size_t>(chosen.label)]);
    }
    return sum;
}

/// Looks at the cheapest paths under some weights, then turns these against what was too often there.
void FreeChoice::try_weights(Weights& weights, std::size_t number, std::optional<Candidate>& best) const {
    weights.change = weight_for(weights, number);
    std::optional<int> often;  // in the cheapest path
    for (auto& path : best_paths(graph_.graph, paths_tried, surcharge(weights, number))) {
        const auto found = measure(path, number);
        if (!often) often = found.often;
        if (best && found.points >= best->misfit) continue;
        // There may be few versions: what is heard already takes nobody's place.
        if (misfit_.heard_before(path)) continue;
        best = Candidate{std::move(path), number, found.points, 0};
    }
    if (often.value_or(-1) >= 0) weights.rules[static_cast<std::size_t>(*often)] += weight("repeated");
    weights.again += weight("same-again") * cost_scale / 2;
}

std::optional<FreeChoice::Candidate> FreeChoice::best_for(std::size_t number, int tries) const {
    std::optional<Candidate> best;
    // As the costs have it, and with hardly anything beside the idea.
    for (const int other : {1, much_dearer}) {
        if (other > 1 && number == ideas_.size()) break;
        Weights weights;
        weights.rules.resize(situation_.rules.rules.size(), 0);
        weights.again = weight("same-again") * cost_scale / 2;
        weights.other = other * weight("other-idea");
        for (int t = 0; t < tries; ++t) try_weights(weights, number, best);
    }
    if (best) best->cost = plain_cost(best->path, plain_surcharge(number));
    return best;
}

// ---- Bettering a version change by change ----

bool FreeChoice::is_change(std::size_t arc) const {
    const int label = graph_.graph.arcs[arc].label;
    return label >= 0 && effects_.effects()[static_cast<std::size_t>(label)].judged != nullptr;
}

/// Of each place the few that are best by themselves, of the idea and of all.
std::vector<int> FreeChoice::labels_to_try(std::size_t number) const {
    struct Tried {
        int all = 0, own = 0;
    };
    std::map<int, Tried> at;
    std::vector<int> labels;
    for (std::size_t label = 0; label < effects_.effects().size(); ++label) {
        const auto& effect = effects_.effects()[label];
        if (effect.judged == nullptr) continue;
        auto& tried = at[effect.judged->placement.begin];
        const bool own = idea(number).serves[effect.rule()] && tried.own++ < alternatives_tried;
        if (tried.all++ < alternatives_tried || own) labels.push_back(static_cast<int>(label));
    }
    return labels;
}

/// Shares of a whole version cannot be priced boundary by boundary: the cheapest paths may all miss one.
void FreeChoice::polish(Candidate& candidate) const {
    const auto labels = labels_to_try(candidate.idea);
    Trials trials{plain_surcharge(candidate.idea), half_beats_heard / std::max(1, effects_.grid().size())};
    for (int round = 0; round < rounds_tried; ++round) {
        const bool moved = change_rounds(candidate, labels, trials);
        if (!change_one(candidate, labels, trials) && !moved && !change_two(candidate, labels, trials))
            return;
    }
}

/// Treats all rounds of a vamp or a sequence alike: one change after the other leaves a stray round each
/// time.
bool FreeChoice::change_rounds(Candidate& candidate, const std::vector<int>& labels, Trials& trials) const {
    bool moved = false;
    for (const auto& joint : round_moves_.of(effects_.changes_of(candidate.path), labels)) {
        if (trials.left <= 0) break;
        moved = take_if_better(exchange_.with(candidate.path, joint), candidate, trials) || moved;
    }
    return moved;
}

/// Takes one change back, or puts one in for whatever lies there.
bool FreeChoice::change_one(Candidate& candidate, const std::vector<int>& labels, Trials& trials) const {
    bool moved = false;
    for (std::size_t i = 0; i < candidate.path.arcs.size(); ++i) {
        if (trials.left <= 0) break;
        if (!is_change(candidate.path.arcs[i])) continue;
        moved = take_if_better(exchange_.without(candidate.path, i), candidate, trials) || moved;
    }
    for (const int label : labels) {
        if (trials.left <= 0) break;
        moved = take_if_better(exchange_.with(candidate.path, label), candidate, trials) || moved;
    }
    return moved;
}

/// Takes one change back and puts another one in somewhere else.
bool FreeChoice::change_two(Candidate& candidate, const std::vector<int>& labels, Trials& trials) const {
    for (std::size_t i = 0; i < candidate.path.arcs.size(); ++i) {
        if (!is_change(candidate.path.arcs[i])) continue;
        const auto less = exchange_.without(candidate.path, i);
        if (!less) continue;
        for (const int label : labels) {
            if (trials.left <= 0) return false;
            if (take_if_better(exchange_.with(*less, label), candidate, trials)) return true;
        }
    }
    return false;
}

bool FreeChoice::take_if_better(std::optional<GraphPath> path, Candidate& candidate, Trials& trials) const {
    --trials.left;
    if (!path || misfit_.heard_before(*path)) return false;
    Candidate other{std::move(*path), candidate.idea, 0, 0};
    other.misfit = measure(other.path, other.idea).points;
    other.cost = plain_cost(other.path, trials.extra);
    if (other.price() >= candidate.price()) return false;
    candidate = std::move(other);
    return true;
}

}  // namespace relead::reharm
