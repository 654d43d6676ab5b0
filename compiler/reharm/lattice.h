// The lattice of a tune: every written chord and every allowed placement as edges of stretches that are
// played together, with the boundaries between them. What the search chooses from.
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include "base/shared_lattice.h"
#include "reharm/judge.h"

namespace relead::reharm {

/// Costs are counted in eighths, so that a dose can be weighed finely against them.
constexpr int cost_scale = 8;

/// Which placement an edge stands for.
struct EdgeMeaning {
    int placement = -1;  ///< index into TuneLattice::placements; -1 = the written chord
    int spot = 0;        ///< first written spot
};

class TuneLattice {
public:
    /// `placements` are allowed ones; they and the situation must outlive the lattice. Cost terms of
    /// boundaries that are `left_out` do not count.
    TuneLattice(const Situation& situation, const std::vector<Judged>& placements,
                std::vector<std::string_view> left_out = {});
    TuneLattice(const TuneLattice&) = delete;
    TuneLattice& operator=(const TuneLattice&) = delete;

    [[nodiscard]] const SharedLattice& lattice() const { return lattice_; }
    [[nodiscard]] const EdgeMeaning& meaning(const LatticeChoice& choice) const {
        return meanings_[static_cast<std::size_t>(choice.segment)][static_cast<std::size_t>(choice.edge)];
    }
    [[nodiscard]] int plays(const LatticeChoice& choice) const {
        return lattice_.segments[static_cast<std::size_t>(choice.segment)].plays;
    }
    /// Leaves only placement `index` over its span.
    void demand(int index);
    /// Takes the last demand back.
    void forget_demand();

private:
    struct EndClass {
        const theory::Chord* chord = nullptr;
        const rules::Placement* placement = nullptr;
    };
    void cut_segments();
    void add_edges();
    void add_joints();
    int end_class(const theory::Chord& chord, const rules::Placement* placement, bool at_its_end);
    std::optional<SearchCost> price(int exit, int entry);

    const Situation& situation_;
    std::vector<std::string_view> left_out_;
    const std::vector<Judged>& placements_;
    SharedLattice lattice_;
    std::vector<std::vector<EdgeMeaning>> meanings_;
    std::vector<int> segment_of_, first_spot_;  ///< per spot, per segment
    std::vector<EndClass> classes_;
    struct Memory;
    std::shared_ptr<Memory> memory_;
    std::vector<std::vector<std::vector<LatticeEdge>>> edges_before_;
    std::vector<std::vector<std::vector<EdgeMeaning>>> meanings_before_;
};

}  // namespace relead::reharm
