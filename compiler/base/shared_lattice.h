// Choices along a text whose stretches are played several times in several orders. A stretch (segment) takes
// one path of edges, the same in all its playings; where one segment follows another, their ends meet at a
// joint and a pair of ends has its price or is forbidden. Knows nothing of music.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/acyclic_graph.h"

namespace relead {

struct LatticeEdge {
    int from = 0, to = 1;  ///< nodes of its segment, from < to
    SearchCost cost;       ///< of one playing
    int entry = 0;         ///< class of its left end, for prices of pairs
    int exit = 0;          ///< class of its right end
    int spend = 0;         ///< what it takes of the budget, once however often it is played
    bool plain = false;    ///< the choice that changes nothing
};

struct LatticeSegment {
    int nodes = 1;  ///< nodes 0 … nodes-1; a path goes from the first to the last
    int plays = 1;  ///< how often it is played
    int group = 0;  ///< whose budget it spends
    std::vector<LatticeEdge> edges;
};

struct LatticeJoint {
    int from = 0, to = 0;  ///< segments; may be the same one
    int times = 1;         ///< how often `to` follows `from`
};

struct SharedLattice {
    std::vector<LatticeSegment> segments;
    std::vector<LatticeJoint> joints;
    std::vector<std::optional<int>> budgets;  ///< per group; nothing = without limit
    /// Price of an exit class followed by an entry class; nothing = forbidden.
    std::function<std::optional<SearchCost>(int exit, int entry)> pair;
};

/// One choice: edge `edge` of segment `segment`.
struct LatticeChoice {
    int segment = 0;
    int edge = 0;
    friend bool operator==(const LatticeChoice&, const LatticeChoice&) = default;
};

/// All paths of the lattice as paths of one acyclic graph. Arc labels index `choices`.
struct LatticeGraph {
    AcyclicGraph graph;
    std::vector<LatticeChoice> choices;
    std::vector<LatticeJoint> pinned;  ///< joints that had to keep plain edges on both sides, for size
};

/// Segments are taken in their order; ends that a later segment still meets are remembered in the nodes. When
/// the graph would pass `node_limit`, the least-played of the joints that are remembered is pinned: only
/// plain edges stand on both sides of it. (A lattice without such joints is unrolled whatever its size.)
[[nodiscard]] LatticeGraph unroll(const SharedLattice& lattice, std::size_t node_limit);

[[nodiscard]] std::vector<LatticeChoice> choices_of(const LatticeGraph& graph, const GraphPath& path);

}  // namespace relead
