// What the choices of a tune's lattice do to it: what sounds, how much of the time it changes, which rules a
// path uses.
#pragma once

#include <vector>

#include "base/acyclic_graph.h"
#include "reharm/dose.h"
#include "reharm/lattice.h"

namespace relead::reharm {

/// What one choice does.
struct Effect {
    const Judged* judged = nullptr;  ///< null = as written
    int plays = 1;
    int changed = 0;     ///< half beats over all playings
    int lost = 0;        ///< section starts and final cadences that get another function
    bool taken = false;  ///< the plan asks for it
    std::vector<SoundGrid::Cell> cells;

    /// The rule that a change ends with. Precondition: not as written.
    [[nodiscard]] std::size_t rule() const {
        return static_cast<std::size_t>(judged->placement.leading().rule);
    }
};

class ChoiceEffects {
public:
    /// All must outlive it.
    ChoiceEffects(const Situation& situation, const std::vector<Judged>& placements,
                  const TuneLattice& lattice, const LatticeGraph& graph);

    /// Per label of the graph.
    [[nodiscard]] const std::vector<Effect>& effects() const { return effects_; }
    [[nodiscard]] const SoundGrid& grid() const { return grid_; }
    /// Half beats that a path changes, over all playings.
    [[nodiscard]] int changed(const GraphPath& path) const;
    /// Written chords that a path does not leave wholly as written, each once.
    [[nodiscard]] int touched(const GraphPath& path) const;
    /// Kept places that get another function, each once.
    [[nodiscard]] int lost(const GraphPath& path) const;
    /// What sounds in every half beat.
    [[nodiscard]] std::vector<int> sound_of(const GraphPath& path) const;
    /// Half beats that sound different, over all playings.
    [[nodiscard]] int differing(const std::vector<int>& a, const std::vector<int>& b) const;
    /// Per rule, how many changes end with it; those that the plan takes are not counted.
    [[nodiscard]] std::vector<int> uses_of(const GraphPath& path) const;

    /// Labels of a path's changes, each once however often it is played.
    [[nodiscard]] std::vector<std::size_t> changes_of(const GraphPath& path) const;

private:
    const Effect* effect_of(std::size_t arc) const {
        const int label = graph_.graph.arcs[arc].label;
        return label < 0 ? nullptr : &effects_[static_cast<std::size_t>(label)];
    }

    const LatticeGraph& graph_;
    std::size_t rules_;
    SoundGrid grid_;
    std::vector<Effect> effects_;
};

}  // namespace relead::reharm
