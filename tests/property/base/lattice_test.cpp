// compiler/base/acyclic_graph.cpp and shared_lattice.cpp against plain enumeration: 5,000 small lattices with
// shared segments, joints to and fro, budgets, forbidden pairs, ties; the best, the k best, and the best that
// keeps its distance from others.
#include <algorithm>
#include <random>

#include "base/shared_lattice.h"
#include "support/catch.h"

using namespace relead;

namespace {

constexpr unsigned seeds = 5000;

struct RandomLattice {
    SharedLattice lattice;
    std::vector<std::vector<std::optional<SearchCost>>> prices;

    explicit RandomLattice(unsigned seed) {
        std::mt19937 random(seed);
        const auto up_to = [&](unsigned n) { return static_cast<int>(random() % n); };
        const int classes = 2 + up_to(3);
        prices.resize(static_cast<std::size_t>(classes));
        for (auto& row : prices) {
            for (int i = 0; i < classes; ++i) {
                if (up_to(6) == 0) {
                    row.emplace_back();
                } else {
                    row.emplace_back(SearchCost{up_to(7), 0});
                }
            }
        }
        const int segments = 1 + up_to(3);
        for (int s = 0; s < segments; ++s) {
            LatticeSegment segment;
            segment.nodes = 2 + up_to(3);
            segment.plays = 1 + up_to(3);
            segment.group = up_to(2);
            for (int node = 0; node + 1 < segment.nodes; ++node) {
                const int kind = up_to(static_cast<unsigned>(classes));
                segment.edges.push_back({node, node + 1, {0, 0}, kind, kind, 0, true});
                for (int extra = up_to(3); extra > 0; --extra) {
                    const int to = node + 1 + up_to(static_cast<unsigned>(segment.nodes - node - 1));
                    segment.edges.push_back({node,
                                             to,
                                             {up_to(9) - 5, up_to(3)},
                                             up_to(static_cast<unsigned>(classes)),
                                             up_to(static_cast<unsigned>(classes)),
                                             1 + up_to(2),
                                             false});
                }
            }
            lattice.segments.push_back(std::move(segment));
        }
        for (int s = 0; s + 1 < segments; ++s) lattice.joints.push_back({s, s + 1, 1 + up_to(2)});
        for (int extra = up_to(4); extra > 0; --extra)
            lattice.joints.push_back({up_to(static_cast<unsigned>(segments)),
                                      up_to(static_cast<unsigned>(segments)), 1 + up_to(2)});
        for (int g = 0; g < 2; ++g)
            lattice.budgets.push_back(up_to(2) == 0 ? std::optional<int>() : std::optional<int>(up_to(4)));
        lattice.pair = [this](int exit, int entry) {
            return prices[static_cast<std::size_t>(exit)][static_cast<std::size_t>(entry)];
        };
    }
    RandomLattice(const RandomLattice&) = delete;
};

using Choices = std::vector<LatticeChoice>;

/// All choices of one path per segment, with their cost, by trying everything.
class Enumeration {
public:
    explicit Enumeration(const SharedLattice& lattice) : lattice_(lattice) { go(0, 0, {}); }
    std::vector<std::pair<SearchCost, Choices>> all;

private:
    void go(int segment, int node, Choices so_far) {
        if (segment == static_cast<int>(lattice_.segments.size())) {
            if (const auto cost = cost_of(so_far)) all.emplace_back(*cost, std::move(so_far));
            return;
        }
        const auto& here = lattice_.segments[static_cast<std::size_t>(segment)];
        if (node + 1 == here.nodes) {
            go(segment + 1, 0, std::move(so_far));
            return;
        }
        for (std::size_t e = 0; e < here.edges.size(); ++e) {
            if (here.edges[e].from != node) continue;
            auto more = so_far;
            more.push_back({segment, static_cast<int>(e)});
            go(segment, here.edges[e].to, std::move(more));
        }
    }
    const LatticeEdge& edge(const LatticeChoice& choice) const {
        return lattice_.segments[static_cast<std::size_t>(choice.segment)]
            .edges[static_cast<std::size_t>(choice.edge)];
    }
    std::optional<SearchCost> cost_of(const Choices& choices) const {
        SearchCost sum;
        std::vector<int> spent(lattice_.budgets.size(), 0);
        const auto add = [&](SearchCost cost, int n) { sum = sum + SearchCost{cost.cost * n, cost.tie * n}; };
        std::vector<std::pair<int, int>> ends(lattice_.segments.size(), {-1, -1});
        for (std::size_t i = 0; i < choices.size(); ++i) {
            const auto& segment = lattice_.segments[static_cast<std::size_t>(choices[i].segment)];
            add(edge(choices[i]).cost, segment.plays);
            spent[static_cast<std::size_t>(segment.group)] += edge(choices[i]).spend;
            auto& [first, last] = ends[static_cast<std::size_t>(choices[i].segment)];
            if (first < 0) {
                first = edge(choices[i]).entry;
            } else {
                const auto price = lattice_.pair(last, edge(choices[i]).entry);
                if (!price) return std::nullopt;
                add(*price, segment.plays);
            }
            last = edge(choices[i]).exit;
        }
        for (const auto& joint : lattice_.joints) {
            const auto price = lattice_.pair(ends[static_cast<std::size_t>(joint.from)].second,
                                             ends[static_cast<std::size_t>(joint.to)].first);
            if (!price) return std::nullopt;
            add(*price, joint.times);
        }
        for (std::size_t g = 0; g < spent.size(); ++g) {
            if (lattice_.budgets[g] && spent[g] > *lattice_.budgets[g]) return std::nullopt;
        }
        return sum;
    }

    const SharedLattice& lattice_;
};

}  // namespace

TEST_CASE("the best and the k best are those of enumeration", "[search]") {
    unsigned solved = 0;
    for (unsigned seed = 1; seed <= seeds; ++seed) {
        const RandomLattice random(seed);
        Enumeration all(random.lattice);
        std::stable_sort(all.all.begin(), all.all.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        const auto unrolled = unroll(random.lattice, 100'000);
        const auto best = best_path(unrolled.graph);
        if (best.has_value() == all.all.empty()) FAIL("seed " << seed);
        if (!best) continue;
        ++solved;
        if (best->cost != all.all.front().first) FAIL("seed " << seed);
        const auto paths = best_paths(unrolled.graph, 7);
        if (paths.size() != std::min<std::size_t>(7, all.all.size()))
            FAIL("seed " << seed << ": " << paths.size());
        std::vector<Choices> seen;
        for (std::size_t i = 0; i < paths.size(); ++i) {
            if (paths[i].cost != all.all[i].first) FAIL("seed " << seed << " path " << i);
            const auto choices = choices_of(unrolled, paths[i]);
            if (std::find(seen.begin(), seen.end(), choices) != seen.end())
                FAIL("seed " << seed << ": twice the same");
            seen.push_back(choices);
            const bool known = std::any_of(all.all.begin(), all.all.end(), [&](const auto& one) {
                return one.second == choices && one.first == paths[i].cost;
            });
            if (!known) FAIL("seed " << seed << ": a path that enumeration does not know");
        }
    }
    CHECK(solved > seeds / 2);
}

TEST_CASE("the best that keeps its distance is that of enumeration", "[search]") {
    unsigned solved = 0, differs = 0;
    for (unsigned seed = 1; seed <= seeds; ++seed) {
        const RandomLattice random(seed);
        const Enumeration all(random.lattice);
        const auto unrolled = unroll(random.lattice, 100'000);
        std::mt19937 dice(seed);
        Counters counters;
        counters.wanted = 1 + static_cast<int>(dice() % 4);
        for (int c = 0; c < 2; ++c) {
            auto& gains = counters.gains.emplace_back();
            for (std::size_t i = 0; i < unrolled.choices.size(); ++i)
                gains.push_back(static_cast<int>(dice() % 3));
        }
        std::optional<SearchCost> wanted;
        for (const auto& [cost, choices] : all.all) {
            bool good = true;
            for (const auto& gains : counters.gains) {
                int sum = 0;
                for (const auto& choice : choices) {
                    const auto at = std::find(unrolled.choices.begin(), unrolled.choices.end(), choice);
                    if (at != unrolled.choices.end())
                        sum += gains[static_cast<std::size_t>(at - unrolled.choices.begin())];
                }
                good = good && sum >= counters.wanted;
            }
            if (good && (!wanted || cost < *wanted)) wanted = cost;
        }
        const auto found = best_path_counting(unrolled.graph, counters, 1'000'000);
        if (found.path.has_value() != wanted.has_value()) FAIL("seed " << seed);
        if (!wanted) continue;
        ++solved;
        if (found.path->cost != *wanted) FAIL("seed " << seed);
        if (found.path->cost != best_path(unrolled.graph)->cost) ++differs;
    }
    CHECK(solved > seeds / 3);
    CHECK(differs > seeds / 20);
}

TEST_CASE("a small limit pins joints and still gives a path within all limits", "[search]") {
    unsigned pinned = 0;
    for (unsigned seed = 1; seed <= 500; ++seed) {
        const RandomLattice random(seed);
        const Enumeration all(random.lattice);
        const auto unrolled = unroll(random.lattice, 12);
        pinned += unrolled.pinned.empty() ? 0 : 1;
        const auto best = best_path(unrolled.graph);
        if (!best) continue;
        const auto choices = choices_of(unrolled, *best);
        const bool known = std::any_of(all.all.begin(), all.all.end(), [&](const auto& one) {
            return one.second == choices && one.first == best->cost;
        });
        if (!known) FAIL("seed " << seed);
    }
    CHECK(pinned > 20);
}
