// Shortest paths in an acyclic graph with exact integer costs: the best, the k best, and the best that keeps
// its distance. Knows nothing of music: keys, changes, voicings and lines bring their own graphs.
#pragma once

#include <compare>
#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

namespace relead {

/// A cost and, where two costs are equal, what else to prefer the smaller of. Both add up along a path.
struct SearchCost {
    std::int64_t cost = 0;
    std::int64_t tie = 0;
    friend constexpr auto operator<=>(const SearchCost&, const SearchCost&) = default;
    friend constexpr SearchCost operator+(SearchCost a, SearchCost b) {
        return {a.cost + b.cost, a.tie + b.tie};
    }
};

/// Nodes are numbered so that every arc goes to a higher number; node 0 is the start, the last is the goal.
/// Arcs are grouped by the node where they begin, in the order in which they were added: that order settles
/// what cost and tie leave open.
struct AcyclicGraph {
    struct Arc {
        int to = 0;
        int label = 0;  ///< the caller's: which choice the arc stands for; -1 = none
        SearchCost cost;
    };
    std::vector<std::size_t> first_arc;  ///< per node: its first arc; one more entry at the end
    std::vector<Arc> arcs;

    [[nodiscard]] int nodes() const { return first_arc.empty() ? 0 : static_cast<int>(first_arc.size()) - 1; }
};

struct GraphPath {
    SearchCost cost;
    std::vector<std::size_t> arcs;  ///< indices into AcyclicGraph::arcs, from start to goal
};

/// What choices cost beyond the costs of their arcs, per label; empty = nothing.
using Surcharge = std::vector<std::int64_t>;

/// Cost of the best way from each node to the goal; nothing where there is none.
[[nodiscard]] std::vector<std::optional<SearchCost>> costs_to_go(const AcyclicGraph& graph,
                                                                 const Surcharge& surcharge = {});

/// Nothing when the goal cannot be reached. Linear in the number of arcs.
[[nodiscard]] std::optional<GraphPath> best_path(const AcyclicGraph& graph, const Surcharge& surcharge = {});

/// The k best different paths in order (fewer when there are fewer). Walks only as far as the k paths reach.
[[nodiscard]] std::vector<GraphPath> best_paths(const AcyclicGraph& graph, std::size_t k,
                                                const Surcharge& surcharge = {});

/// What arcs count towards, for best_path_counting. A path is good when every counter reaches `wanted`.
struct Counters {
    int wanted = 0;
    std::vector<std::vector<int>> gains;  ///< per counter and arc label: what choosing it adds (not negative)
};
struct CountedPath {
    std::optional<GraphPath> path;  ///< nothing when no path is good, or the limit was met first
    bool limit_met = false;
    std::size_t labels = 0;  ///< partial paths looked at
};
/// The best path whose counters all reach the wanted value; exact unless `limit_met`.
[[nodiscard]] CountedPath best_path_counting(const AcyclicGraph& graph, const Counters& counters,
                                             std::size_t label_limit, const Surcharge& surcharge = {});

}  // namespace relead
