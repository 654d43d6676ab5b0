#include "base/shared_lattice.h"

#include <algorithm>
#include <unordered_map>

namespace relead {
namespace {

/// What a node remembers for later segments.
struct Slot {
    enum class Kind { entry, exit, spent };
    Kind kind = Kind::entry;
    int of = 0;  ///< segment, or group
    friend bool operator==(const Slot&, const Slot&) = default;
};

/// exit of the edge before, entry of this segment, then the slots.
using State = std::vector<int>;
struct StateHash {
    std::size_t operator()(const State& state) const {
        std::size_t hash = 1469598103934665603ULL;
        for (const int value : state) hash = (hash ^ static_cast<std::size_t>(value)) * 1099511628211ULL;
        return hash;
    }
};
constexpr int none = -1;
constexpr std::size_t exit_at = 0, entry_at = 1, slots_at = 2;

/// All states at one node of one segment.
struct Layer {
    std::vector<State> states;
    std::unordered_map<State, int, StateHash> index;
    int add(State state) {
        const auto [at, fresh] = index.emplace(std::move(state), static_cast<int>(states.size()));
        if (fresh) states.push_back(at->first);
        return at->second;
    }
};

struct LayerArc {
    std::size_t from_layer = 0, to_layer = 0;
    int from = 0, to = 0;
    int label = none;
    SearchCost cost;
};

SearchCost times(SearchCost cost, int n) {
    return {cost.cost * n, cost.tie * n};
}

class Unroller {
public:
    Unroller(const SharedLattice& lattice, const std::vector<LatticeJoint>& pinned)
        : lattice_(lattice), pinned_(pinned) {}

    /// Nothing when more than `limit` nodes came up.
    std::optional<LatticeGraph> run(std::size_t limit) {
        limit_ = limit;
        std::size_t layers = 1;
        for (const auto& segment : lattice_.segments) {
            first_layer_.push_back(layers - 1);
            layers += static_cast<std::size_t>(segment.nodes) - 1;
        }
        layers_.resize(layers);
        slots_ = slots_before(0);
        layers_.front().add(State(slots_at + slots_.size(), 0));
        auto& start = layers_.front().states.front();
        start[exit_at] = start[entry_at] = none;
        for (std::size_t s = 0; s < lattice_.segments.size(); ++s) {
            if (!unroll_segment(s)) return std::nullopt;
        }
        return finish();
    }

    /// Joints whose ends are remembered over other segments.
    static std::vector<LatticeJoint> remembered(const SharedLattice& lattice) {
        std::vector<LatticeJoint> all;
        for (const auto& joint : lattice.joints) {
            if (joint.to != joint.from + 1) all.push_back(joint);
        }
        return all;
    }

private:
    [[nodiscard]] bool needs_entry(int segment, int from_segment) const {
        return std::any_of(lattice_.joints.begin(), lattice_.joints.end(),
                           [&](const LatticeJoint& j) { return j.to == segment && j.from >= from_segment; });
    }
    [[nodiscard]] bool needs_exit(int segment, int from_segment) const {
        return std::any_of(lattice_.joints.begin(), lattice_.joints.end(), [&](const LatticeJoint& j) {
            return j.from == segment && j.to >= from_segment && j.to > segment;
        });
    }
    [[nodiscard]] std::vector<Slot> slots_before(int segment) const {
        std::vector<Slot> slots;
        for (int t = 0; t < segment; ++t) {
            if (needs_entry(t, segment)) slots.push_back({Slot::Kind::entry, t});
            if (needs_exit(t, segment)) slots.push_back({Slot::Kind::exit, t});
        }
        for (std::size_t g = 0; g < lattice_.budgets.size(); ++g) {
            bool later = false;
            for (auto t = static_cast<std::size_t>(segment); t < lattice_.segments.size(); ++t)
                later = later || lattice_.segments[t].group == static_cast<int>(g);
            if (lattice_.budgets[g] && later) slots.push_back({Slot::Kind::spent, static_cast<int>(g)});
        }
        return slots;
    }
    [[nodiscard]] std::size_t slot_of(const std::vector<Slot>& slots, Slot slot) const {
        return slots_at +
               static_cast<std::size_t>(std::find(slots.begin(), slots.end(), slot) - slots.begin());
    }
    [[nodiscard]] bool is_pinned(int segment, bool at_start) const {
        return std::any_of(pinned_.begin(), pinned_.end(),
                           [&](const LatticeJoint& j) { return (at_start ? j.to : j.from) == segment; });
    }

    bool unroll_segment(std::size_t s) {
        const auto& segment = lattice_.segments[s];
        std::vector<std::vector<int>> leaving(static_cast<std::size_t>(segment.nodes));
        for (std::size_t e = 0; e < segment.edges.size(); ++e)
            leaving[static_cast<std::size_t>(segment.edges[e].from)].push_back(static_cast<int>(e));
        // The first layer of a segment is the last of the one before; joining them is `close`.
        for (int node = 0; node + 1 < segment.nodes; ++node) {
            const auto layer = first_layer_[s] + static_cast<std::size_t>(node);
            for (std::size_t i = 0; i < layers_[layer].states.size(); ++i) {
                for (const int e : leaving[static_cast<std::size_t>(node)])
                    take(s, layer, static_cast<int>(i), e);
            }
            if (nodes_ > limit_) return false;
        }
        close(s);
        return true;
    }
    void take(std::size_t s, std::size_t layer, int from, int edge_index) {
        const auto& segment = lattice_.segments[s];
        const auto& edge = segment.edges[static_cast<std::size_t>(edge_index)];
        const auto index = static_cast<int>(s);
        if (!edge.plain && edge.from == 0 && is_pinned(index, true)) return;
        if (!edge.plain && edge.to + 1 == segment.nodes && is_pinned(index, false)) return;
        auto state = layers_[layer].states[static_cast<std::size_t>(from)];
        const auto price = edge.from == 0 ? price_of_joints_before(index, state, edge.entry)
                                          : inside(segment, state[exit_at], edge.entry);
        if (!price || !spend(segment.group, edge.spend, state)) return;
        if (edge.from == 0) state[entry_at] = needs_entry(index, index) ? edge.entry : none;
        state[exit_at] = edge.exit;
        const auto to_layer = first_layer_[s] + static_cast<std::size_t>(edge.to);
        const auto before = layers_[to_layer].states.size();
        // The last layer is shared with the next segment: its states are made by `close`.
        const int to = edge.to + 1 == segment.nodes ? ends_.add(std::move(state))
                                                    : layers_[to_layer].add(std::move(state));
        nodes_ += layers_[to_layer].states.size() - before;
        const LayerArc arc{
            layer, to_layer, from, to, label_of(index, edge_index), times(edge.cost, segment.plays) + *price};
        (edge.to + 1 == segment.nodes ? ending_ : arcs_).push_back(arc);
    }
    std::optional<SearchCost> inside(const LatticeSegment& segment, int exit, int entry) const {
        const auto price = lattice_.pair(exit, entry);
        return price ? std::optional<SearchCost>(times(*price, segment.plays)) : std::nullopt;
    }
    /// Joints into a segment from those before it.
    std::optional<SearchCost> price_of_joints_before(int segment, const State& state, int entry) const {
        SearchCost sum;
        for (const auto& joint : lattice_.joints) {
            if (joint.to != segment || joint.from >= segment) continue;
            const auto price = lattice_.pair(state[slot_of(slots_, {Slot::Kind::exit, joint.from})], entry);
            if (!price) return std::nullopt;
            sum = sum + times(*price, joint.times);
        }
        return sum;
    }
    bool spend(int group, int amount, State& state) const {
        if (group >= static_cast<int>(lattice_.budgets.size())) return true;
        const auto& budget = lattice_.budgets[static_cast<std::size_t>(group)];
        if (!budget) return true;
        auto& spent = state[slot_of(slots_, {Slot::Kind::spent, group})];
        spent += amount;
        return spent <= *budget;
    }
    int label_of(int segment, int edge) {
        const auto key = (static_cast<std::int64_t>(segment) << 32) | edge;
        const auto [at, fresh] = labels_.emplace(key, static_cast<int>(choices_.size()));
        if (fresh) choices_.push_back({segment, edge});
        return at->second;
    }
    /// Joints from this segment to itself and to earlier ones; then only what later segments need is kept.
    void close(std::size_t s) {
        const auto index = static_cast<int>(s);
        const auto next_slots = slots_before(index + 1);
        const auto layer = first_layer_[s] + static_cast<std::size_t>(lattice_.segments[s].nodes) - 1;
        std::vector<int> moved(ends_.states.size(), none);
        std::vector<SearchCost> prices(ends_.states.size());
        for (std::size_t i = 0; i < ends_.states.size(); ++i) {
            const auto& state = ends_.states[i];
            const auto price = price_of_joints_back(index, state);
            if (!price) continue;
            prices[i] = *price;
            State next{none, none};
            for (const auto& slot : next_slots) next.push_back(value_of(slot, index, state));
            const auto before = layers_[layer].states.size();
            moved[i] = layers_[layer].add(std::move(next));
            nodes_ += layers_[layer].states.size() - before;
        }
        for (auto& arc : ending_) {
            const auto end = static_cast<std::size_t>(arc.to);
            if (moved[end] == none) continue;
            arc.cost = arc.cost + prices[end];
            arc.to = moved[end];
            arcs_.push_back(arc);
        }
        ending_.clear();
        ends_ = {};
        slots_ = next_slots;
    }
    std::optional<SearchCost> price_of_joints_back(int segment, const State& state) const {
        SearchCost sum;
        for (const auto& joint : lattice_.joints) {
            if (joint.from != segment || joint.to > segment) continue;
            const int entry =
                joint.to == segment ? state[entry_at] : state[slot_of(slots_, {Slot::Kind::entry, joint.to})];
            const auto price = lattice_.pair(state[exit_at], entry);
            if (!price) return std::nullopt;
            sum = sum + times(*price, joint.times);
        }
        return sum;
    }
    int value_of(const Slot& slot, int segment, const State& state) const {
        if (slot.kind == Slot::Kind::entry && slot.of == segment) return state[entry_at];
        if (slot.kind == Slot::Kind::exit && slot.of == segment) return state[exit_at];
        return state[slot_of(slots_, slot)];
    }
    LatticeGraph finish() {
        std::vector<int> base;
        int nodes = 0;
        for (const auto& layer : layers_) {
            base.push_back(nodes);
            nodes += static_cast<int>(layer.states.size());
        }
        std::stable_sort(arcs_.begin(), arcs_.end(), [](const LayerArc& a, const LayerArc& b) {
            return std::pair(a.from_layer, a.from) < std::pair(b.from_layer, b.from);
        });
        LatticeGraph result;
        result.choices = std::move(choices_);
        if (nodes == 0 || layers_.back().states.empty()) return result;
        auto& graph = result.graph;
        graph.first_arc.assign(static_cast<std::size_t>(nodes) + 1, 0);
        for (const auto& arc : arcs_) {
            const int from = base[arc.from_layer] + arc.from;
            ++graph.first_arc[static_cast<std::size_t>(from) + 1];
            graph.arcs.push_back({base[arc.to_layer] + arc.to, arc.label, arc.cost});
        }
        for (std::size_t i = 1; i < graph.first_arc.size(); ++i) graph.first_arc[i] += graph.first_arc[i - 1];
        return result;
    }

    const SharedLattice& lattice_;
    const std::vector<LatticeJoint>& pinned_;
    std::size_t limit_ = 0, nodes_ = 1;
    std::vector<std::size_t> first_layer_;
    std::vector<Layer> layers_;
    Layer ends_;
    std::vector<LayerArc> arcs_, ending_;
    std::vector<Slot> slots_;
    std::vector<LatticeChoice> choices_;
    std::unordered_map<std::int64_t, int> labels_;
};

}  // namespace

LatticeGraph unroll(const SharedLattice& lattice, std::size_t node_limit) {
    std::vector<LatticeJoint> pinned;
    auto open = Unroller::remembered(lattice);
    std::stable_sort(open.begin(), open.end(), [](const LatticeJoint& a, const LatticeJoint& b) {
        return a.times != b.times ? a.times < b.times : std::pair(a.to, a.from) > std::pair(b.to, b.from);
    });
    while (true) {
        const bool last = pinned.size() == open.size();
        auto graph = Unroller(lattice, pinned).run(last ? static_cast<std::size_t>(-1) / 2 : node_limit);
        if (graph) {
            graph->pinned = pinned;
            return std::move(*graph);
        }
        pinned.push_back(open[pinned.size()]);
    }
}

std::vector<LatticeChoice> choices_of(const LatticeGraph& graph, const GraphPath& path) {
    std::vector<LatticeChoice> choices;
    for (const auto arc : path.arcs) {
        const int label = graph.graph.arcs[arc].label;
        if (label >= 0) choices.push_back(graph.choices[static_cast<std::size_t>(label)]);
    }
    return choices;
}

}  // namespace relead
