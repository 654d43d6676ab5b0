#include "bench/growth.h"

#include "reharm/lattice.h"
#include "rules/read_rules.h"

namespace relead::bench {
namespace {

reharm::BoundPlan bind(const tune::Tune& tune, int outside) {
    reharm::Wish wish;
    wish.outside = outside;
    return std::move(*reharm::bind_plan(tune, rules::built_in_rules(), wish).value);
}

}  // namespace

Stages::Stages(const tune::Tune& tune, int outside)
    : tune_(tune),
      analysis_(analysis::analyse(tune)),
      chart_(rules::make_chart(tune, analysis_)),
      plan_(bind(tune, outside)),
      situation_{tune_, chart_, rules::built_in_rules(), plan_},
      pool_(reharm::build_pool(situation_, {})) {}

std::size_t Stages::match() const {
    rules::MatchWish wish;
    wish.open_contexts = true;
    return rules::match_all(situation_.rules, chart_, wish).size();
}

reharm::Pool Stages::build() const {
    return reharm::build_pool(situation_, {});
}

reharm::SearchResult Stages::search(int versions) const {
    reharm::SearchWish wish;
    wish.versions = versions;
    return reharm::search(situation_, pool_, wish);
}

std::int64_t Stages::heard(int versions) const {
    return search(versions).half_beats_heard;
}

StageCounts Stages::count() const {
    StageCounts counts;
    counts.alternatives = pool_.built;
    const reharm::TuneLattice lattice(situation_, pool_.placements);
    const auto graph = unroll(lattice.lattice(), std::size_t{1} << 20U);
    counts.arcs = graph.graph.arcs.size();
    // A version that differs from the written tune in at least two chords.
    Counters counters;
    counters.wanted = 2;
    auto& gains = counters.gains.emplace_back();
    for (const auto& choice : graph.choices) gains.push_back(lattice.meaning(choice).placement >= 0 ? 1 : 0);
    counts.labels = best_path_counting(graph.graph, counters, std::size_t{1} << 24U).labels;
    return counts;
}

}  // namespace relead::bench
