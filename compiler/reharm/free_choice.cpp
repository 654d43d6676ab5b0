#include "reharm/free_choice.h"

#include <algorithm>

#include "reharm/cost_terms.h"
#include "reharm/kept_places.h"

namespace relead::reharm {
namespace {

/// Versions of a tune sound different in a quarter of its time.
constexpr int quarter = 25;
/// Paths looked at under one set of weights.
constexpr std::size_t paths_tried = 48;

}  // namespace

FreeChoice::FreeChoice(const Situation& situation, const std::vector<Judged>& placements,
                       const TuneLattice& lattice, const LatticeGraph& graph)
    : situation_(situation), graph_(graph), grid_(situation.chart), ideas_(ideas_for(situation.rules)) {
    for (const auto& choice : graph.choices) {
        const auto& meaning = lattice.meaning(choice);
        Label label;
        label.plays = lattice.plays(choice);
        if (meaning.placement < 0) {
            label.cells = grid_.written(meaning.spot);
        } else {
            label.judged = &placements[static_cast<std::size_t>(meaning.placement)];
            label.cells = grid_.placed(label.judged->placement);
            label.lost = places_lost(situation.chart, label.judged->placement);
        }
        for (const auto& cell : label.cells) {
            if (cell.sound != grid_.as_written()[static_cast<std::size_t>(cell.cell)])
                label.changed += grid_.plays(cell.cell);
        }
        labels_.push_back(std::move(label));
    }
    ideas_.push_back({"any", "", std::vector<bool>(situation.rules.rules.size(), true)});
    used_.resize(ideas_.size(), false);
}

std::optional<GraphPath> FreeChoice::next() {
    dose_ = dose_of(static_cast<int>(earlier_.size()), situation_.chart);
    std::vector<Candidate> candidates;
    for (std::size_t idea = 0; idea < ideas_.size(); ++idea) {
        if (used_[idea] || !has_room(idea)) continue;
        if (auto found = best_for(idea, 1)) candidates.push_back(std::move(*found));
    }
    const auto better = [](const Candidate& a, const Candidate& b) {
        constexpr double per_point = 12.0 * cost_scale;
        const auto price = [](const Candidate& c) {
            return static_cast<double>(c.cost) + per_point * c.misfit;
        };
        return price(a) < price(b);
    };
    std::stable_sort(candidates.begin(), candidates.end(), better);
    constexpr std::size_t refined = 3;
    for (std::size_t i = 0; i < std::min(refined, candidates.size()); ++i) {
        if (candidates[i].misfit == 0) continue;
        if (auto again = best_for(candidates[i].idea, 4); again && better(*again, candidates[i]))
            candidates[i] = std::move(*again);
    }
    std::stable_sort(candidates.begin(), candidates.end(), better);
    if (candidates.empty()) return std::nullopt;
    auto& best = candidates.front();
    auto sound = sound_of(best.path);
    for (const auto& earlier : earlier_) {
        if (differing(sound, earlier) == 0) return std::nullopt;
    }
    earlier_.push_back(std::move(sound));
    used_[best.idea] = best.idea + 1 < ideas_.size();
    if (const auto stated = stated_idea(best.path)) stated_.push_back(*stated);
    return std::move(best.path);
}

bool FreeChoice::has_room(std::size_t idea) const {
    int places = 0;
    for (const auto& label : labels_) {
        if (label.judged == nullptr) continue;
        const auto rule = static_cast<std::size_t>(label.judged->placement.derivation.back().rule);
        places += ideas_[idea].serves[rule] ? 1 : 0;
    }
    return idea + 1 == ideas_.size() || places > 1;
}

Surcharge FreeChoice::surcharge(const Weights& weights, std::size_t idea) const {
    Surcharge extra;
    const int other_idea = weight("other-idea");
    // Far outside it is an exception, not a sin.
    constexpr int inside = 3;
    const int other_function = weight("other-function") / (situation_.plan.ceiling > inside ? 4 : 1);
    for (const auto& label : labels_) {
        std::int64_t sum = std::int64_t{weights.change} * label.changed;
        if (label.judged != nullptr) {
            const auto& derivation = label.judged->placement.derivation;
            int steps =
                ideas_[idea].serves[static_cast<std::size_t>(derivation.back().rule)] ? 0 : other_idea;
            steps += other_function * label.lost;
            for (const auto& applied : derivation)
                steps += weights.rules[static_cast<std::size_t>(applied.rule)];
            sum += std::int64_t{cost_scale} * steps * label.plays;
            for (const auto& earlier : earlier_) {
                for (const auto& cell : label.cells) {
                    const auto at = static_cast<std::size_t>(cell.cell);
                    const bool again = cell.sound == earlier[at] && cell.sound != grid_.as_written()[at];
                    if (again) sum += std::int64_t{weights.again} * grid_.plays(cell.cell);
                }
            }
        }
        extra.push_back(sum);
    }
    return extra;
}

int FreeChoice::changed(const GraphPath& path) const {
    int sum = 0;
    for (const auto arc : path.arcs) {
        const int label = graph_.graph.arcs[arc].label;
        if (label >= 0) sum += labels_[static_cast<std::size_t>(label)].changed;
    }
    return sum;
}

/// The least weight that keeps the dose below its most; the more weight, the less changes.
int FreeChoice::weight_for(Weights weights, std::size_t idea) const {
    const int most = grid_.size() * dose_.most / 100;
    int low = -12 * cost_scale, high = 24 * cost_scale;
    while (low < high) {
        weights.change = low + (high - low) / 2;
        const auto path = best_path(graph_.graph, surcharge(weights, idea));
        if (path && changed(*path) > most) {
            low = weights.change + 1;
        } else {
            high = weights.change;
        }
    }
    return low;
}

std::vector<int> FreeChoice::sound_of(const GraphPath& path) const {
    auto sound = grid_.as_written();
    for (const auto arc : path.arcs) {
        const int label = graph_.graph.arcs[arc].label;
        if (label < 0) continue;
        for (const auto& cell : labels_[static_cast<std::size_t>(label)].cells)
            sound[static_cast<std::size_t>(cell.cell)] = cell.sound;
    }
    return sound;
}

int FreeChoice::differing(const std::vector<int>& a, const std::vector<int>& b) const {
    int sum = 0;
    for (std::size_t cell = 0; cell < a.size(); ++cell) {
        if (a[cell] != b[cell]) sum += grid_.plays(static_cast<int>(cell));
    }
    return sum;
}

std::vector<int> FreeChoice::uses_of(const GraphPath& path) const {
    std::vector<int> uses(situation_.rules.rules.size(), 0);
    std::vector<bool> seen(labels_.size(), false);
    for (const auto arc : path.arcs) {
        const int label = graph_.graph.arcs[arc].label;
        if (label < 0 || labels_[static_cast<std::size_t>(label)].judged == nullptr) continue;
        if (seen[static_cast<std::size_t>(label)]) continue;
        seen[static_cast<std::size_t>(label)] = true;
        const auto rule = static_cast<std::size_t>(
            labels_[static_cast<std::size_t>(label)].judged->placement.derivation.back().rule);
        ++uses[rule];
    }
    return uses;
}

int FreeChoice::serving(const std::vector<int>& uses, std::size_t idea) const {
    int sum = 0;
    for (std::size_t rule = 0; rule < uses.size(); ++rule) sum += ideas_[idea].serves[rule] ? uses[rule] : 0;
    return sum;
}

/// As idea_of will say it: the first idea that most changes serve, when they are half of all.
std::optional<std::size_t> FreeChoice::stated_idea(const GraphPath& path) const {
    const auto uses = uses_of(path);
    const std::size_t any = ideas_.size() - 1;
    std::size_t best = 0;
    for (std::size_t idea = 1; idea < any; ++idea) {
        if (serving(uses, idea) > serving(uses, best)) best = idea;
    }
    if (serving(uses, best) * 2 < serving(uses, any)) return std::nullopt;
    return best;
}

/// A version says one thing, and another one than those before it.
double FreeChoice::idea_misfit(const GraphPath& path) const {
    constexpr double no_idea = 35, same_idea = 45;
    const auto stated = stated_idea(path);
    if (!stated) return no_idea;
    return std::find(stated_.begin(), stated_.end(), *stated) == stated_.end() ? 0 : same_idea;
}

/// One rule makes at most half of the changes, the idea's rules at least half. `often` takes a rule that is
/// used too often, -1 = none.
double FreeChoice::rule_misfit(const GraphPath& path, std::size_t idea, int& often) const {
    const auto uses = uses_of(path);
    const int all = serving(uses, ideas_.size() - 1), served = serving(uses, idea);
    often = -1;
    if (all == 0) return 0;
    const auto most = std::max_element(uses.begin(), uses.end());
    double misfit = 0;
    if (all > 2 && *most * 2 > all) {
        often = static_cast<int>(most - uses.begin());
        misfit += 50.0 * *most / all - 20;
    }
    if (served * 2 < all) misfit += 50.0 * (all - served) / all - 20;
    return misfit;
}

double FreeChoice::misfit(const GraphPath& path, std::size_t idea, int& often) const {
    const double size = std::max(1, grid_.size());
    const double dose = 100 * changed(path) / size;
    double sum = std::max({0.0, dose_.least - dose, dose - dose_.most});
    const auto sound = sound_of(path);
    const double apart = is_dense(situation_.chart) ? quarter / 2.0 : quarter;
    for (const auto& earlier : earlier_) sum += std::max(0.0, apart - 100 * differing(sound, earlier) / size);
    return sum + rule_misfit(path, idea, often) + idea_misfit(path);
}

std::optional<FreeChoice::Candidate> FreeChoice::best_for(std::size_t idea, int tries) const {
    Weights weights;
    weights.rules.resize(situation_.rules.rules.size(), 0);
    weights.again = weight("same-again") * cost_scale / 2;
    std::optional<Candidate> best;
    for (int t = 0; t < tries; ++t) {
        weights.change = weight_for(weights, idea);
        const auto extra = surcharge(weights, idea);
        int often_first = -1;
        bool first = true;
        for (auto& path : best_paths(graph_.graph, paths_tried, extra)) {
            int often = -1;
            const double far = misfit(path, idea, often);
            if (std::exchange(first, false)) often_first = often;
            if (best && far >= best->misfit) continue;
            best = Candidate{std::move(path), idea, far, 0};
        }
        if (!best || best->misfit == 0) break;
        if (often_first >= 0) weights.rules[static_cast<std::size_t>(often_first)] += weight("repeated");
        weights.again += weight("same-again") * cost_scale / 2;
    }
    if (!best) return std::nullopt;
    // What it costs without the weight of its dose.
    auto plain = weights;
    plain.change = plain.again = 0;
    std::fill(plain.rules.begin(), plain.rules.end(), 0);
    const auto extra = surcharge(plain, idea);
    for (const auto arc : best->path.arcs) {
        const auto& chosen = graph_.graph.arcs[arc];
        best->cost +=
            chosen.cost.cost + (chosen.label < 0 ? 0 : extra[static_cast<std::size_t>(chosen.label)]);
    }
    return best;
}

}  // namespace relead::reharm
