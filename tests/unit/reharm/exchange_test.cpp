// compiler/reharm/exchange.cpp: one change of a path put in, taken back or exchanged.
#include "reharm/exchange.h"

#include <string>

#include "base/shared_lattice.h"
#include "support/catch.h"

using namespace relead;
using reharm::Exchange;

namespace {

/// Four spots; changes a over spot 0, b over 1 and 2, c over 2, d over 3; b and d may not meet. Names are
/// single letters, a dot is a spot as written.
class Small {
public:
    Small() {
        LatticeSegment segment;
        segment.nodes = 5;
        const auto add = [&](char name, int from, int to) {
            const int kind = name == 'b' ? 1 : name == 'd' ? 2 : 0;
            segment.edges.push_back({from, to, {name == '.' ? 1 : 0, 0}, kind, kind, 0, name == '.'});
            names_ += name;
        };
        for (int spot = 0; spot < 4; ++spot) add('.', spot, spot + 1);
        add('a', 0, 1);
        add('b', 1, 3);
        add('c', 2, 3);
        add('d', 3, 4);
        SharedLattice lattice;
        lattice.segments.push_back(segment);
        lattice.budgets.resize(1);
        lattice.pair = [](int exit, int entry) {
            return exit == 1 && entry == 2 ? std::nullopt : std::optional<SearchCost>(SearchCost{});
        };
        graph_ = unroll(lattice, 1000);
        std::vector<Exchange::Span> spans;
        for (const auto& choice : graph_.choices) {
            const auto& edge = segment.edges[static_cast<std::size_t>(choice.edge)];
            spans.push_back({edge.from, edge.to, edge.plain});
        }
        exchange_.emplace(graph_.graph, spans);
    }
    std::string text(const std::optional<GraphPath>& path) const {
        if (!path) return "forbidden";
        std::string names;
        for (const auto arc : path->arcs) names += name_of(graph_.graph.arcs[arc].label);
        return names;
    }
    /// The path with these changes put in one after the other.
    std::optional<GraphPath> path(const std::string& changes) const {
        std::optional<GraphPath> path;
        for (const auto& one : best_paths(graph_.graph, 100)) {
            if (text(one) == "....") path = one;
        }
        for (const char name : changes) {
            if (path) path = exchange_->with(*path, label_of(name));
        }
        return path;
    }
    /// The path where what begins in spots [from, to) is taken back, then these changes put in.
    std::optional<GraphPath> joint(const GraphPath& path, int from, int to,
                                   const std::string& changes) const {
        Exchange::Joint joint;
        joint.clear.push_back({from, to});
        for (const char name : changes) joint.put.push_back(label_of(name));
        return exchange_->with(path, joint);
    }
    std::optional<GraphPath> without(const GraphPath& path, std::size_t index) const {
        return exchange_->without(path, index);
    }

private:
    char name_of(int label) const {
        return names_[static_cast<std::size_t>(graph_.choices[static_cast<std::size_t>(label)].edge)];
    }
    int label_of(char name) const {
        for (std::size_t label = 0; label < graph_.choices.size(); ++label) {
            if (name_of(static_cast<int>(label)) == name) return static_cast<int>(label);
        }
        FAIL("no " << name);
        return -1;
    }

    std::string names_;
    LatticeGraph graph_;
    std::optional<Exchange> exchange_;
};

}  // namespace

TEST_CASE("a change is put in for whatever it overlaps", "[reharm]") {
    const Small small;
    CHECK(small.text(small.path("")) == "....");
    CHECK(small.text(small.path("a")) == "a...");
    CHECK(small.text(small.path("ab")) == "ab.");
    CHECK(small.text(small.path("bc")) == "..c.");
    CHECK(small.text(small.path("cb")) == ".b.");
    CHECK(small.text(small.path("acd")) == "a.cd");
    CHECK(small.path("acd")->cost.cost == 1);
}

TEST_CASE("a change is taken back with all its spots", "[reharm]") {
    const Small small;
    CHECK(small.text(small.without(*small.path("ab"), 1)) == "a...");
    CHECK(small.text(small.without(*small.path("ab"), 0)) == ".b.");
    CHECK(small.without(*small.path("ab"), 1)->cost.cost == 3);
}

TEST_CASE("several changes are made at once, whatever may not meet on the way to them", "[reharm]") {
    const Small small;
    CHECK(small.text(small.joint(*small.path("a"), 0, 0, "cd")) == "a.cd");
    CHECK(small.text(small.joint(*small.path("ab"), 0, 4, "")) == "....");
    // What begins before is left, what begins there goes as a whole.
    CHECK(small.text(small.joint(*small.path("ab"), 1, 2, "")) == "a...");
    CHECK(small.text(small.joint(*small.path("ab"), 2, 4, "")) == "ab.");
    // b and d may not meet: d goes while b comes.
    CHECK(small.text(small.joint(*small.path("ad"), 3, 4, "b")) == "ab.");
    CHECK(small.text(small.joint(*small.path("b"), 0, 0, "dc")) == "..cd");
    CHECK(small.text(small.joint(*small.path("b"), 0, 0, "d")) == "forbidden");
}

TEST_CASE("what may not meet is never given", "[reharm]") {
    const Small small;
    CHECK(small.text(small.path("bd")) == "forbidden");
    CHECK(small.text(small.path("db")) == "forbidden");
    CHECK(small.text(small.path("cd")) == "..cd");
}
