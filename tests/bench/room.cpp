#include "bench/room.h"

#include <algorithm>

#include "reharm/dose.h"
#include "reharm/ideas.h"
#include "reharm/kept_places.h"
#include "reharm/lattice.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "rules/read_rules.h"

namespace relead::bench {
struct Room::Parts {
    rules::Chart chart;
    Outcome<reharm::BoundPlan> plan;
    std::vector<reharm::Judged> placements;
    std::unique_ptr<reharm::TuneLattice> lattice;
    LatticeGraph graph;
    int size = 1;
    std::vector<int> changed;  ///< half beats per label
    std::vector<int> rule;     ///< per label; -1 = as written

    /// The most that changes when each change counts `own` half beats more with a rule of the idea and as
    /// much less with another one.
    [[nodiscard]] int most(const std::vector<bool>& serves, int own) const {
        constexpr std::int64_t above_all_costs = std::int64_t{1} << 24U;
        std::vector<int> gains;
        Surcharge surcharge;
        for (std::size_t label = 0; label < changed.size(); ++label) {
            int gain = changed[label];
            if (rule[label] >= 0) gain += serves[static_cast<std::size_t>(rule[label])] ? own : -own;
            gains.push_back(gain);
            surcharge.push_back(-above_all_costs * gain);
        }
        const auto path = best_path(graph.graph, surcharge);
        int sum = 0;
        if (!path) return 0;
        for (const auto arc : path->arcs) sum += gains[static_cast<std::size_t>(graph.graph.arcs[arc].label)];
        return sum;
    }
    [[nodiscard]] double share(int half_beats) const { return static_cast<double>(half_beats) / size; }
};

Room::Room(const Piece& piece, const analysis::Analysis& analysis, int outside)
    : parts_(std::make_unique<Parts>()) {
    auto& parts = *parts_;
    const auto& rules = rules::built_in_rules();
    reharm::Wish wish;
    wish.outside = outside;
    parts.chart = rules::make_chart(piece.tune, analysis);
    parts.plan = reharm::bind_plan(piece.tune, rules, wish);
    const reharm::Situation situation{piece.tune, parts.chart, rules, *parts.plan.value};
    constexpr int inside = 3;
    for (auto& judged : reharm::build_pool(situation, {}).placements) {
        if (outside > inside || reharm::places_lost(parts.chart, judged.placement) == 0)
            parts.placements.push_back(std::move(judged));
    }
    parts.lattice = std::make_unique<reharm::TuneLattice>(situation, parts.placements);
    parts.graph = unroll(parts.lattice->lattice(), std::size_t{1} << 20U);
    reharm::SoundGrid grid(parts.chart);
    parts.size = std::max(1, grid.size());
    for (const auto& choice : parts.graph.choices) {
        const int index = parts.lattice->meaning(choice).placement;
        int changed = 0;
        if (index >= 0) {
            const auto& placement = parts.placements[static_cast<std::size_t>(index)].placement;
            for (const auto& cell : grid.placed(placement)) {
                if (cell.sound != grid.as_written()[static_cast<std::size_t>(cell.cell)])
                    changed += grid.plays(cell.cell);
            }
            parts.rule.push_back(placement.derivation.back().rule);
        } else {
            parts.rule.push_back(-1);
        }
        parts.changed.push_back(changed);
    }
}

Room::~Room() = default;

double Room::of_all() const {
    return parts_->share(parts_->most(std::vector<bool>(rules::built_in_rules().rules.size(), true), 0));
}

double Room::of_one_idea(const std::vector<std::size_t>& stated) const {
    int most = 0;
    const auto ideas = reharm::ideas_for(rules::built_in_rules());
    for (std::size_t i = 0; i < ideas.size(); ++i) {
        if (std::find(stated.begin(), stated.end(), i) != stated.end()) continue;
        const auto& idea = ideas[i];
        // Whatever the weight, no version with half of its changes from the idea changes more.
        int least = parts_->most(idea.serves, 0);
        for (const int own : {1, 2, 4, 8, 16, 32, 64})
            least = std::min(least, parts_->most(idea.serves, own));
        most = std::max(most, least);
    }
    return parts_->share(most);
}

}  // namespace relead::bench
