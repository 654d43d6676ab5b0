// Versions that are chosen freely: no plan counts their changes, so each takes its dose, keeps to one idea
// and sounds otherwise than those before it. Weights that serve these aims are added to the costs; of the
// cheapest paths under them the first that meets all aims is taken.
#pragma once

#include <optional>
#include <vector>

#include "base/acyclic_graph.h"
#include "reharm/dose.h"
#include "reharm/ideas.h"
#include "reharm/lattice.h"

namespace relead::reharm {

class FreeChoice {
public:
    /// All must outlive it.
    FreeChoice(const Situation& situation, const std::vector<Judged>& placements, const TuneLattice& lattice,
               const LatticeGraph& graph);
    /// The next version; nothing when none is left that differs from those before.
    [[nodiscard]] std::optional<GraphPath> next();

private:
    struct Label {
        const Judged* judged = nullptr;  ///< null = as written
        int plays = 1;
        int changed = 0;  ///< half beats over all playings
        int lost = 0;     ///< section starts and final cadences that get another function
        std::vector<SoundGrid::Cell> cells;
    };
    /// What weighs besides the costs.
    struct Weights {
        int change = 0;  ///< per changed half beat
        int again = 0;   ///< per half beat that an earlier version changed in the same way
        std::vector<int> rules;
    };
    struct Candidate {
        GraphPath path;
        std::size_t idea = 0;
        double misfit = 0;  ///< how far it stays from the aims; 0 = meets all
        std::int64_t cost = 0;
    };
    [[nodiscard]] Surcharge surcharge(const Weights& weights, std::size_t idea) const;
    [[nodiscard]] int weight_for(Weights weights, std::size_t idea) const;
    [[nodiscard]] int changed(const GraphPath& path) const;
    [[nodiscard]] std::vector<int> sound_of(const GraphPath& path) const;
    [[nodiscard]] int differing(const std::vector<int>& a, const std::vector<int>& b) const;
    [[nodiscard]] double misfit(const GraphPath& path, std::size_t idea, int& often) const;
    /// Per rule, how many changes end with it.
    [[nodiscard]] std::vector<int> uses_of(const GraphPath& path) const;
    [[nodiscard]] int serving(const std::vector<int>& uses, std::size_t idea) const;
    [[nodiscard]] std::optional<std::size_t> stated_idea(const GraphPath& path) const;
    [[nodiscard]] double idea_misfit(const GraphPath& path) const;
    [[nodiscard]] double rule_misfit(const GraphPath& path, std::size_t idea, int& often) const;
    [[nodiscard]] std::optional<Candidate> best_for(std::size_t idea, int tries) const;
    [[nodiscard]] bool has_room(std::size_t idea) const;

    const Situation& situation_;
    const LatticeGraph& graph_;
    SoundGrid grid_;
    std::vector<Label> labels_;
    std::vector<Idea> ideas_;  ///< the last one takes every rule
    std::vector<bool> used_;
    std::vector<std::size_t> stated_;        ///< ideas that the summaries of the versions before state
    std::vector<std::vector<int>> earlier_;  ///< sounds of the versions before
    Dose dose_;
};

}  // namespace relead::reharm
