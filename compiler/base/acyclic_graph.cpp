#include "base/acyclic_graph.h"

#include <algorithm>
#include <queue>
#include <tuple>

namespace relead {
namespace {

using Costs = std::vector<std::optional<SearchCost>>;

SearchCost cost_of(const AcyclicGraph::Arc& arc, const Surcharge& surcharge) {
    if (arc.label < 0 || surcharge.empty()) return arc.cost;
    return {arc.cost.cost + surcharge[static_cast<std::size_t>(arc.label)], arc.cost.tie};
}

/// A partial path, linked to the one that it goes on from.
struct Label {
    int node = 0;
    std::size_t arc = 0;
    std::size_t before = 0;
    SearchCost cost;
    std::vector<int> counts;
};
constexpr std::size_t no_label = std::numeric_limits<std::size_t>::max();

/// Labels by least cost to the goal, then in the order in which they were made.
class Agenda {
public:
    void push(SearchCost whole, std::size_t label) { queue_.emplace(whole, label); }
    [[nodiscard]] bool empty() const { return queue_.empty(); }
    std::size_t pop() {
        const auto label = std::get<1>(queue_.top());
        queue_.pop();
        return label;
    }

private:
    struct Later {
        bool operator()(const std::tuple<SearchCost, std::size_t>& a,
                        const std::tuple<SearchCost, std::size_t>& b) const {
            return a > b;
        }
    };
    std::priority_queue<std::tuple<SearchCost, std::size_t>, std::vector<std::tuple<SearchCost, std::size_t>>,
                        Later>
        queue_;
};

GraphPath unwind(const std::vector<Label>& labels, std::size_t at) {
    GraphPath path{labels[at].cost, {}};
    for (; labels[at].before != no_label; at = labels[at].before) path.arcs.push_back(labels[at].arc);
    std::reverse(path.arcs.begin(), path.arcs.end());
    return path;
}

/// Per counter and node: the most that a path from there to the goal can still add.
std::vector<std::vector<int>> most_to_go(const AcyclicGraph& graph, const Counters& counters,
                                         const Costs& to_go) {
    std::vector<std::vector<int>> most(counters.gains.size(), std::vector<int>(to_go.size(), 0));
    for (std::size_t c = 0; c < most.size(); ++c) {
        for (auto node = static_cast<std::size_t>(graph.nodes()); node-- > 0;) {
            for (auto a = graph.first_arc[node]; a < graph.first_arc[node + 1]; ++a) {
                const auto& arc = graph.arcs[a];
                if (!to_go[static_cast<std::size_t>(arc.to)]) continue;
                const int gain = arc.label < 0 ? 0 : counters.gains[c][static_cast<std::size_t>(arc.label)];
                most[c][node] = std::max(most[c][node], gain + most[c][static_cast<std::size_t>(arc.to)]);
            }
        }
    }
    return most;
}

class CountingSearch {
public:
    CountingSearch(const AcyclicGraph& graph, const Counters& counters, std::size_t limit,
                   const Surcharge& surcharge)
        : graph_(graph),
          counters_(counters),
          limit_(limit),
          surcharge_(surcharge),
          to_go_(costs_to_go(graph, surcharge)),
          most_(most_to_go(graph, counters, to_go_)),
          settled_(to_go_.size()) {}

    CountedPath run() {
        CountedPath result;
        if (graph_.nodes() == 0 || !to_go_[0]) return result;
        add({0, 0, no_label, {}, std::vector<int>(counters_.gains.size(), 0)});
        while (!agenda_.empty()) {
            const auto at = agenda_.pop();
            const auto node = static_cast<std::size_t>(labels_[at].node);
            if (labels_[at].node + 1 == graph_.nodes()) {
                result.path = unwind(labels_, at);
                break;
            }
            if (!settle(at)) continue;
            if (labels_.size() > limit_) {
                result.limit_met = true;
                break;
            }
            for (auto a = graph_.first_arc[node]; a < graph_.first_arc[node + 1]; ++a) extend(at, a);
        }
        result.labels = labels_.size();
        return result;
    }

private:
    void add(Label label) {
        const auto node = static_cast<std::size_t>(label.node);
        if (!to_go_[node]) return;
        for (std::size_t c = 0; c < label.counts.size(); ++c) {
            if (label.counts[c] + most_[c][node] < counters_.wanted) return;
        }
        agenda_.push(label.cost + *to_go_[node], labels_.size());
        labels_.push_back(std::move(label));
    }
    void extend(std::size_t at, std::size_t arc_index) {
        const auto& arc = graph_.arcs[arc_index];
        Label next{arc.to, arc_index, at, labels_[at].cost + cost_of(arc, surcharge_), labels_[at].counts};
        for (std::size_t c = 0; c < next.counts.size(); ++c) {
            const int gain = arc.label < 0 ? 0 : counters_.gains[c][static_cast<std::size_t>(arc.label)];
            next.counts[c] = std::min(counters_.wanted, next.counts[c] + gain);
        }
        add(std::move(next));
    }
    /// False when a label settled before at the same node is no dearer and counts no less.
    bool settle(std::size_t at) {
        auto& here = settled_[static_cast<std::size_t>(labels_[at].node)];
        const auto& counts = labels_[at].counts;
        for (const auto other : here) {
            const auto& better = labels_[other].counts;
            bool all = true;
            for (std::size_t c = 0; c < counts.size(); ++c) all = all && better[c] >= counts[c];
            if (all) return false;
        }
        here.push_back(at);
        return true;
    }

    const AcyclicGraph& graph_;
    const Counters& counters_;
    std::size_t limit_;
    const Surcharge& surcharge_;
    Costs to_go_;
    std::vector<std::vector<int>> most_;
    std::vector<std::vector<std::size_t>> settled_;
    std::vector<Label> labels_;
    Agenda agenda_;
};

}  // namespace

Costs costs_to_go(const AcyclicGraph& graph, const Surcharge& surcharge) {
    Costs costs(static_cast<std::size_t>(std::max(0, graph.nodes())));
    if (costs.empty()) return costs;
    costs.back() = SearchCost{};
    for (auto node = costs.size(); node-- > 0;) {
        for (auto a = graph.first_arc[node]; a < graph.first_arc[node + 1]; ++a) {
            const auto& arc = graph.arcs[a];
            const auto& rest = costs[static_cast<std::size_t>(arc.to)];
            if (!rest) continue;
            const auto whole = cost_of(arc, surcharge) + *rest;
            if (!costs[node] || whole < *costs[node]) costs[node] = whole;
        }
    }
    return costs;
}

std::optional<GraphPath> best_path(const AcyclicGraph& graph, const Surcharge& surcharge) {
    const auto to_go = costs_to_go(graph, surcharge);
    if (to_go.empty() || !to_go.front()) return std::nullopt;
    GraphPath path{*to_go.front(), {}};
    for (std::size_t node = 0; node + 1 < to_go.size();) {
        for (auto a = graph.first_arc[node]; a < graph.first_arc[node + 1]; ++a) {
            const auto& arc = graph.arcs[a];
            const auto& rest = to_go[static_cast<std::size_t>(arc.to)];
            if (!rest || cost_of(arc, surcharge) + *rest != *to_go[node]) continue;
            path.arcs.push_back(a);
            node = static_cast<std::size_t>(arc.to);
            break;
        }
    }
    return path;
}

std::vector<GraphPath> best_paths(const AcyclicGraph& graph, std::size_t k, const Surcharge& surcharge) {
    std::vector<GraphPath> found;
    const auto to_go = costs_to_go(graph, surcharge);
    if (to_go.empty() || !to_go.front() || k == 0) return found;
    std::vector<Label> labels{{0, 0, no_label, {}, {}}};
    std::vector<std::size_t> visits(to_go.size(), 0);
    Agenda agenda;
    agenda.push(*to_go.front(), 0);
    while (!agenda.empty() && found.size() < k) {
        const auto at = agenda.pop();
        const auto node = static_cast<std::size_t>(labels[at].node);
        // A node on more than k partial paths can give no further one of the k best.
        if (++visits[node] > k) continue;
        if (labels[at].node + 1 == graph.nodes()) {
            found.push_back(unwind(labels, at));
            continue;
        }
        for (auto a = graph.first_arc[node]; a < graph.first_arc[node + 1]; ++a) {
            const auto& arc = graph.arcs[a];
            const auto& rest = to_go[static_cast<std::size_t>(arc.to)];
            if (!rest) continue;
            const auto cost = labels[at].cost + cost_of(arc, surcharge);
            agenda.push(cost + *rest, labels.size());
            labels.push_back({arc.to, a, at, cost, {}});
        }
    }
    return found;
}

CountedPath best_path_counting(const AcyclicGraph& graph, const Counters& counters, std::size_t label_limit,
                               const Surcharge& surcharge) {
    return CountingSearch(graph, counters, label_limit, surcharge).run();
}

}  // namespace relead
