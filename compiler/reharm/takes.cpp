#include "reharm/takes.h"

#include <algorithm>

#include "text/diagnose.h"
#include "tune/plan.h"

namespace relead::reharm {
namespace {

bool is_by(const rules::Placement& placement, const BoundPlan::Take& take) {
    return std::find(take.rules.begin(), take.rules.end(), placement.derivation.back().rule) !=
           take.rules.end();
}

bool stands_at(const Situation& situation, const rules::Placement& placement, const tune::Address& address) {
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& spot = situation.chart.at(i);
        const auto& section = situation.tune.sections[static_cast<std::size_t>(spot.ref.section)].name;
        if (address.covers(section, spot.bar_number) && (!address.beat || *address.beat == spot.beat()))
            return true;
    }
    return false;
}

class Taker {
public:
    Taker(const Situation& situation, const Pool& pool, TuneLattice& lattice, std::size_t node_limit)
        : situation_(situation), pool_(pool), lattice_(lattice), node_limit_(node_limit) {}

    Diagnostics run() {
        for (const auto& take : situation_.plan.take) {
            if (!take.rules.empty()) try_to_take(take);
        }
        return sink_.take();
    }

private:
    /// The best one first; the first that leaves a way through is taken.
    void try_to_take(const BoundPlan::Take& take) {
        std::vector<int> order;
        for (std::size_t i = 0; i < pool_.placements.size(); ++i) {
            const auto& placement = pool_.placements[i].placement;
            if (is_by(placement, take) && stands_at(situation_, placement, take.at))
                order.push_back(static_cast<int>(i));
        }
        std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
            return better(pool_.placements[static_cast<std::size_t>(a)],
                          pool_.placements[static_cast<std::size_t>(b)]);
        });
        for (const int index : order) {
            lattice_.demand(index);
            if (best_path(unroll(lattice_.lattice(), node_limit_).graph)) return;
            lattice_.forget_demand();
        }
        const auto& rule = situation_.rules.rules[static_cast<std::size_t>(take.rules.front())];
        sink_.emit(text::Code::take_not_possible, take.at.span,
                   rule.title + " cannot stand at " + tune::to_string(take.at) + ": " + why_not(take));
    }
    std::string why_not(const BoundPlan::Take& take) const {
        PoolWish wish;
        wish.depth = 1;
        wish.explain = true;
        for (const auto& judged : build_pool(situation_, wish).placements) {
            if (is_by(judged.placement, take) && stands_at(situation_, judged.placement, take.at) &&
                !judged.verdict.allowed())
                return judged.verdict.refusals.front().sentence;
        }
        for (const auto& judged : pool_.placements) {
            if (is_by(judged.placement, take) && stands_at(situation_, judged.placement, take.at))
                return "The plan has no room for it, or it does not go with what else the plan takes.";
        }
        return "Its chords are not there.";
    }

    const Situation& situation_;
    const Pool& pool_;
    TuneLattice& lattice_;
    std::size_t node_limit_;
    text::Sink sink_;
};

}  // namespace

bool is_taken(const Situation& situation, const rules::Placement& placement) {
    const auto& take = situation.plan.take;
    return std::any_of(take.begin(), take.end(), [&](const BoundPlan::Take& one) {
        return is_by(placement, one) && stands_at(situation, placement, one.at);
    });
}

void take_demands(const Situation& situation, const Pool& pool, TuneLattice& lattice, std::size_t node_limit,
                  Diagnostics& diagnostics) {
    auto said = Taker(situation, pool, lattice, node_limit).run();
    diagnostics.insert(diagnostics.end(), said.begin(), said.end());
}

}  // namespace relead::reharm
