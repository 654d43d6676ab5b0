#include "voicing/choose.h"

#include <algorithm>
#include <optional>

#include "base/acyclic_graph.h"

namespace relead::voicing {
namespace {

/// Node 0, a node for every candidate of the steps [first, last), and the goal.
class Stretch {
public:
    Stretch(const std::vector<std::size_t>& counts, const ChainCosts& costs, std::size_t first,
            std::size_t last)
        : counts_(counts), costs_(costs), first_(first), last_(last) {}

    [[nodiscard]] AcyclicGraph graph(std::optional<std::size_t> before) {
        int node = 1;
        graph_.first_arc.push_back(0);
        for (std::size_t next = 0; next < counts_[first_]; ++next) {
            const auto lead_in = before ? costs_.between(first_ - 1, *before, next) : 0;
            add(node + static_cast<int>(next), next, lead_in + costs_.own(first_, next));
        }
        for (std::size_t step = first_; step < last_; ++step) {
            node += static_cast<int>(counts_[step]);
            for (std::size_t candidate = 0; candidate < counts_[step]; ++candidate)
                leave(step, candidate, node);
        }
        graph_.first_arc.push_back(graph_.arcs.size());
        graph_.first_arc.push_back(graph_.arcs.size());
        return std::move(graph_);
    }

private:
    void leave(std::size_t step, std::size_t candidate, int node_after) {
        graph_.first_arc.push_back(graph_.arcs.size());
        if (step + 1 == last_) return add(node_after, 0, 0);
        for (std::size_t next = 0; next < counts_[step + 1]; ++next)
            add(node_after + static_cast<int>(next), next,
                costs_.between(step, candidate, next) + costs_.own(step + 1, next));
    }

    void add(int to, std::size_t choice, std::int64_t cost) {
        graph_.arcs.push_back({to, static_cast<int>(choice), {cost, 0}});
    }

    const std::vector<std::size_t>& counts_;
    const ChainCosts& costs_;
    std::size_t first_;
    std::size_t last_;
    AcyclicGraph graph_;
};

}  // namespace

std::vector<std::size_t> choose_cheapest(const std::vector<std::size_t>& counts, const ChainCosts& costs,
                                         std::size_t stretch) {
    std::vector<std::size_t> chosen;
    while (chosen.size() < counts.size()) {
        const auto first = chosen.size();
        const auto last = std::min(first + stretch, counts.size());
        const auto before = chosen.empty() ? std::nullopt : std::optional(chosen.back());
        const auto graph = Stretch(counts, costs, first, last).graph(before);
        const auto path = best_path(graph);
        if (!path) return {};  // a step without candidates
        for (std::size_t i = 0; i + 1 < path->arcs.size(); ++i)
            chosen.push_back(static_cast<std::size_t>(graph.arcs[path->arcs[i]].label));
    }
    return chosen;
}

}  // namespace relead::voicing
