// compiler/reharm/exchange.cpp against all paths of small lattices: shared segments, forbidden pairs, a
// budget. What a path becomes is found here among all paths by its set of changes alone.
#include <algorithm>
#include <map>
#include <random>
#include <set>

#include "base/shared_lattice.h"
#include "reharm/exchange.h"
#include "support/catch.h"

using namespace relead;
using reharm::Exchange;

namespace {

using Changes = std::set<int>;  // labels

/// Two segments of two or three spots, the first one played again after the second; at most three spots of
/// each may change.
SharedLattice random_lattice(unsigned seed) {
    std::mt19937 random(seed);
    const auto up_to = [&](unsigned n) { return static_cast<int>(random() % n); };
    constexpr int classes = 3;
    std::vector<bool> forbidden;
    for (int i = 0; i < classes * classes; ++i) forbidden.push_back(up_to(5) == 0);
    forbidden[0] = false;  // what is written may stay
    SharedLattice lattice;
    for (int s = 0; s < 2; ++s) {
        LatticeSegment segment;
        segment.nodes = 3 + up_to(2);
        segment.plays = 2 - s;
        for (int node = 0; node + 1 < segment.nodes; ++node) {
            segment.edges.push_back({node, node + 1, {1 + up_to(3), 0}, 0, 0, 0, true});
            for (int extra = up_to(3); extra > 0; --extra) {
                const int to = node + 1 + up_to(static_cast<unsigned>(segment.nodes - node - 1));
                segment.edges.push_back(
                    {node, to, {up_to(9), up_to(2)}, up_to(classes), up_to(classes), to - node, false});
            }
        }
        lattice.segments.push_back(std::move(segment));
    }
    lattice.joints = {{0, 1, 1}, {1, 0, 1}};
    lattice.budgets.emplace_back(3);
    lattice.pair = [forbidden](int exit, int entry) {
        return forbidden[static_cast<std::size_t>(exit * classes + entry)]
                   ? std::nullopt
                   : std::optional<SearchCost>(SearchCost{exit + 2 * entry, 0});
    };
    return lattice;
}

class Case {
public:
    explicit Case(unsigned seed) : lattice_(random_lattice(seed)), graph_(unroll(lattice_, 100'000)) {
        for (const auto& choice : graph_.choices) {
            const auto& edge = lattice_.segments[static_cast<std::size_t>(choice.segment)]
                                   .edges[static_cast<std::size_t>(choice.edge)];
            const int first = choice.segment == 0 ? 0 : lattice_.segments.front().nodes - 1;
            spans_.push_back({first + edge.from, first + edge.to, edge.plain});
        }
        for (auto& path : best_paths(graph_.graph, 100'000)) {
            const auto changes = changes_of(path);
            REQUIRE(all_.emplace(changes, std::move(path)).second);
        }
    }
    /// Every path with every change put in, and with each of its own taken back.
    void check() {
        const Exchange exchange(graph_.graph, spans_);
        for (const auto& [changes, path] : all_) {
            for (int label = 0; label < static_cast<int>(spans_.size()); ++label) {
                if (!span(label).plain) check_same(exchange.with(path, label), put_in(changes, label));
            }
            for (std::size_t i = 0; i < path.arcs.size(); ++i) {
                auto less = changes;
                less.erase(graph_.graph.arcs[path.arcs[i]].label);
                check_same(exchange.without(path, i), less);
            }
        }
    }
    int found = 0, refused = 0;

private:
    [[nodiscard]] const Exchange::Span& span(int label) const {
        return spans_[static_cast<std::size_t>(label)];
    }
    [[nodiscard]] Changes changes_of(const GraphPath& path) const {
        Changes changes;
        for (const auto arc : path.arcs) {
            if (const int label = graph_.graph.arcs[arc].label; !span(label).plain) changes.insert(label);
        }
        return changes;
    }
    [[nodiscard]] Changes put_in(const Changes& changes, int label) const {
        Changes more{label};
        for (const int other : changes) {
            if (span(other).end <= span(label).begin || span(label).end <= span(other).begin)
                more.insert(other);
        }
        return more;
    }
    void check_same(const std::optional<GraphPath>& given, const Changes& wanted) {
        const auto legal = all_.find(wanted);
        ++(legal == all_.end() ? refused : found);
        REQUIRE(given.has_value() == (legal != all_.end()));
        if (!given) return;
        REQUIRE(given->arcs == legal->second.arcs);
        REQUIRE(given->cost == legal->second.cost);
    }

    SharedLattice lattice_;
    LatticeGraph graph_;
    std::vector<Exchange::Span> spans_;
    std::map<Changes, GraphPath> all_;  ///< by their changes
};

}  // namespace

TEST_CASE("an exchange gives the path with those changes, and nothing where there is none", "[reharm]") {
    constexpr unsigned seeds = 200;
    int found = 0, refused = 0;
    for (unsigned seed = 0; seed < seeds; ++seed) {
        CAPTURE(seed);
        Case one(seed);
        one.check();
        found += one.found;
        refused += one.refused;
    }
    // Both happen often, else the lattices say nothing.
    CHECK(found > 1000);
    CHECK(refused > 1000);
}
