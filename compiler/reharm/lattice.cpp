#include "reharm/lattice.h"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "reharm/guard.h"
#include "reharm/pair.h"

namespace relead::reharm {

/// Ends that behave alike share a class; prices are worked out once per pair of classes.
struct TuneLattice::Memory {
    std::map<std::string, int> classes;
    struct Price {
        bool known = false, allowed = false;
        std::int64_t cost = 0;
    };
    std::vector<std::vector<Price>> prices;  ///< by exit class, then entry class
};

namespace {

/// What else to prefer when costs are equal: fewer chords touched, further inside, fewer rules, the earlier
/// rule.
std::int64_t tie_of(const Judged& judged) {
    const auto part = [](int value, int shift) { return static_cast<std::int64_t>(value) << shift; };
    return part(judged.touched, 47) + part(judged.outside, 33) + part(judged.placement.depth(), 21) +
           judged.placement.derivation.back().rule;
}

std::string key_of(const std::vector<rules::Need>& needs) {
    std::string key;
    for (const auto& need : needs) {
        key += need.negated ? "!" : "+";
        for (const auto& pattern : need.element.alternatives) {
            key += std::to_string(pattern.kinds) + ":";
            if (pattern.degree)
                key +=
                    std::to_string(theory::pitch_class(theory::note_at(need.tonic, *pattern.degree))) + ";";
        }
    }
    return key;
}

}  // namespace

TuneLattice::TuneLattice(const Situation& situation, const std::vector<Judged>& placements,
                         std::vector<std::string_view> left_out)
    : situation_(situation),
      left_out_(std::move(left_out)),
      placements_(placements),
      memory_(std::make_shared<Memory>()) {
    cut_segments();
    add_edges();
    add_joints();
    memory_->prices.resize(classes_.size());
    lattice_.pair = [this](int exit, int entry) { return price(exit, entry); };
}

void TuneLattice::cut_segments() {
    const auto& chart = situation_.chart;
    const bool per_section = situation_.plan.plan.at_most_per_section;
    for (int i = 0; i < chart.size(); ++i) {
        if (i == 0 || !chart.joined(i - 1)) {
            LatticeSegment segment;
            segment.plays = chart.at(i).playings;
            segment.group = per_section ? chart.at(i).ref.section : 0;
            lattice_.segments.push_back(std::move(segment));
            first_spot_.push_back(i);
        }
        ++lattice_.segments.back().nodes;
        segment_of_.push_back(static_cast<int>(lattice_.segments.size()) - 1);
    }
    const auto groups = per_section ? situation_.tune.sections.size() : std::size_t{1};
    lattice_.budgets.assign(groups, situation_.plan.plan.at_most);
    meanings_.resize(lattice_.segments.size());
}

void TuneLattice::add_edges() {
    const auto& chart = situation_.chart;
    for (std::size_t p = 0; p < placements_.size(); ++p) {
        const auto& judged = placements_[p];
        const auto& placement = judged.placement;
        const auto s = static_cast<std::size_t>(segment_of_[static_cast<std::size_t>(placement.begin)]);
        const int first = first_spot_[s];
        lattice_.segments[s].edges.push_back(
            {placement.begin - first,
             placement.end - first,
             {std::int64_t{cost_scale} * judged.verdict.cost, tie_of(judged)},
             end_class(placement.chords.front().chord, &placement, false),
             end_class(placement.chords.back().chord, &placement, true),
             judged.touched,
             false});
        meanings_[s].push_back({static_cast<int>(p), placement.begin});
    }
    // Last, so that of equals the earlier change wins.
    for (int i = 0; i < chart.size(); ++i) {
        const auto s = static_cast<std::size_t>(segment_of_[static_cast<std::size_t>(i)]);
        const int node = i - first_spot_[s];
        const int kind = end_class(chart.at(i).chord, nullptr, true);
        lattice_.segments[s].edges.push_back({node, node + 1, {}, kind, kind, 0, true});
        meanings_[s].push_back({-1, i});
    }
}

void TuneLattice::add_joints() {
    const auto& chart = situation_.chart;
    std::map<std::pair<int, int>, int> times;
    const auto segment = [&](int spot) { return segment_of_[static_cast<std::size_t>(spot)]; };
    const auto is_inner = [&](int from, int to) { return to == from + 1 && chart.joined(from); };
    // Everything that may follow counts at least once, also what only the last chorus plays.
    for (int i = 0; i < chart.size(); ++i) {
        for (const int next : chart.at(i).next) {
            if (!is_inner(i, next)) times[{segment(i), segment(next)}] = 0;
        }
    }
    const auto& order = chart.chorus;
    for (std::size_t i = 0; i < order.size(); ++i) {
        const int to = order[(i + 1) % order.size()];
        if (!is_inner(order[i], to)) ++times[{segment(order[i]), segment(to)}];
    }
    for (const auto& [joint, count] : times)
        lattice_.joints.push_back({joint.first, joint.second, std::max(1, count)});
}

int TuneLattice::end_class(const theory::Chord& chord, const rules::Placement* placement, bool at_its_end) {
    auto key = theory::to_string(chord, theory::SymbolStyle::plain);
    if (placement) {
        // Only what the boundary asks about: is the chord new, along which threads, and what it needs.
        const auto& made = at_its_end ? placement->chords.back() : placement->chords.front();
        const auto needs = key_of(at_its_end ? placement->right : placement->left);
        if (!made.kept_from) key += at_its_end ? "|new" : "|made";
        if (!made.kept_from && at_its_end && !threads_of(situation_.rules, made).empty())
            key += std::to_string(made.rule) + "/" + std::to_string(made.item);
        if (!needs.empty()) key += (at_its_end ? "|right" : "|left") + needs;
        // A kept chord that needs nothing is as good as written.
        if (made.kept_from && needs.empty()) placement = nullptr;
    }
    const auto [at, fresh] = memory_->classes.emplace(std::move(key), static_cast<int>(classes_.size()));
    if (fresh) classes_.push_back({&chord, placement});
    return at->second;
}

std::optional<SearchCost> TuneLattice::price(int exit, int entry) {
    auto& row = memory_->prices[static_cast<std::size_t>(exit)];
    if (row.empty()) row.resize(classes_.size());
    auto& price = row[static_cast<std::size_t>(entry)];
    if (!price.known) {
        const auto& left = classes_[static_cast<std::size_t>(exit)];
        const auto& right = classes_[static_cast<std::size_t>(entry)];
        const auto verdict =
            judge_pair(situation_.rules, {left.chord, left.placement}, {right.chord, right.placement});
        price = {true, !verdict.refusal, std::int64_t{cost_scale} * verdict.cost(left_out_)};
    }
    return price.allowed ? std::optional<SearchCost>(SearchCost{price.cost, 0}) : std::nullopt;
}

void TuneLattice::demand(int index) {
    auto& edges_before = edges_before_.emplace_back();
    auto& meanings_before = meanings_before_.emplace_back();
    const auto& wanted = placements_[static_cast<std::size_t>(index)].placement;
    for (std::size_t s = 0; s < lattice_.segments.size(); ++s) {
        auto& edges = lattice_.segments[s].edges;
        edges_before.push_back(edges);
        meanings_before.push_back(meanings_[s]);
        std::vector<LatticeEdge> kept;
        std::vector<EdgeMeaning> meanings;
        for (std::size_t e = 0; e < edges.size(); ++e) {
            const int begin = first_spot_[s] + edges[e].from;
            const int end = first_spot_[s] + edges[e].to;
            const bool apart = end <= wanted.begin || begin >= wanted.end;
            if (!apart && meanings_[s][e].placement != index) continue;
            kept.push_back(edges[e]);
            meanings.push_back(meanings_[s][e]);
        }
        edges = std::move(kept);
        meanings_[s] = std::move(meanings);
    }
}

void TuneLattice::forget_demand() {
    for (std::size_t s = 0; s < lattice_.segments.size(); ++s) {
        lattice_.segments[s].edges = std::move(edges_before_.back()[s]);
        meanings_[s] = std::move(meanings_before_.back()[s]);
    }
    edges_before_.pop_back();
    meanings_before_.pop_back();
}

}  // namespace relead::reharm
