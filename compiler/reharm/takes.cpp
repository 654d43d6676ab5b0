#include "reharm/takes.h"

#include <algorithm>
#include <limits>
#include <optional>

#include "reharm/near_miss.h"
#include "reharm/plan_refusals.h"
#include "rules/find_words.h"
#include "text/diagnose.h"
#include "theory/signs.h"
#include "tune/plan.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

using Take = BoundPlan::Take;

/// By the last of its steps, or by the one that a reader is told.
bool is_by(const rules::Placement& placement, const Take& take) {
    return std::any_of(take.rules.begin(), take.rules.end(), [&](int rule) {
        return rule == placement.derivation.back().rule || rule == placement.leading().rule;
    });
}

bool is_meant(const Situation& situation, const Take& take, const rules::Placement& placement) {
    if (!is_by(placement, take)) return false;
    for (int i = placement.begin; i < placement.end; ++i) {
        if (covers(situation, take.at, i)) return true;
    }
    return false;
}

bool same_way(const rules::Placement& a, const rules::Placement& b) {
    const auto same_step = [](const rules::Applied& x, const rules::Applied& y) { return x.rule == y.rule; };
    return rules::same_music(a, b) && std::equal(a.derivation.begin(), a.derivation.end(),
                                                 b.derivation.begin(), b.derivation.end(), same_step);
}

void put(Pool& pool, Judged judged) {
    const auto same = [&](const Judged& known) { return same_way(known.placement, judged.placement); };
    auto& all = pool.placements;
    if (std::any_of(all.begin(), all.end(), same)) return;
    const auto place =
        std::upper_bound(all.begin(), all.end(), judged.placement.begin,
                         [](int begin, const Judged& known) { return begin < known.placement.begin; });
    all.insert(place, std::move(judged));
}

/// What one `take` asks for, among all that could stand at its place.
class Wanted {
public:
    Wanted(const Situation& situation, const Take& take) : situation_(situation), take_(take) {
        for (int i = 0; i < situation.chart.size(); ++i) {
            if (covers(situation, take.at, i)) spots_.push_back(i);
        }
    }

    [[nodiscard]] std::vector<Judged> among(std::vector<Judged> all) const {
        std::erase_if(all,
                      [&](const Judged& judged) { return !is_meant(situation_, take_, judged.placement); });
        return all;
    }
    /// Its rules on the written chords, as if there were no other.
    [[nodiscard]] std::vector<Judged> alone() const {
        auto plan = situation_.plan;
        for (std::size_t i = 0; i < plan.usable.size(); ++i) {
            const bool taken =
                std::find(take_.rules.begin(), take_.rules.end(), static_cast<int>(i)) != take_.rules.end();
            plan.usable[i] = plan.usable[i] && taken;
        }
        const Situation narrow{situation_.tune, situation_.chart, situation_.rules, plan, situation_.symbols};
        PoolWish wish;
        wish.depth = 1;
        return built(narrow, wish);
    }
    /// Its rules on what others write, too.
    [[nodiscard]] std::vector<Judged> stacked(PoolWish wish) const { return built(situation_, wish); }
    /// Its rules on the written chords, with what speaks against it.
    [[nodiscard]] std::vector<Judged> explained() const {
        PoolWish wish;
        wish.depth = 1;
        wish.explain = true;
        return built(situation_, wish);
    }
    /// "Fmaj7", "Gm7 and C7": what is written there.
    [[nodiscard]] std::vector<std::string> written() const {
        std::vector<std::string> names;
        for (const int i : spots_) {
            const auto name = theory::to_string(situation_.chart.at(i).chord);
            if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
        }
        return names;
    }
    /// Degree 1 of a rule that is always counted from one tonic.
    [[nodiscard]] std::optional<theory::NoteName> tonic_of(const rules::Rule& rule) const {
        if (rule.tonic == rules::TonicBinding::home) return situation_.chart.home.tonic;
        if (rule.tonic == rules::TonicBinding::local && !spots_.empty())
            return situation_.chart.at(spots_.front()).fact.local_key.tonic;
        return std::nullopt;
    }

private:
    [[nodiscard]] std::vector<Judged> built(const Situation& situation, PoolWish wish) const {
        if (spots_.empty()) return {};
        wish.first = spots_.front();
        wish.last = spots_.back() + 1;
        wish.alternatives = std::numeric_limits<int>::max();
        return among(build_pool(situation, wish).placements);
    }

    const Situation& situation_;
    const Take& take_;
    std::vector<int> spots_;
};

const rules::Rule& rule_of(const Situation& situation, int rule) {
    return situation.rules.rules[static_cast<std::size_t>(rule)];
}

/// The plan names a family: any of its rules would do.
bool is_family(const Take& take) {
    return take.rules.size() > 1;
}

std::string does_not_go(const Take& take) {
    return std::string(is_family(take) ? "None of them goes" : "It does not go") +
           " with the chords around it.";
}

std::string what_it_needs(const Situation& situation, const Take& take, const Wanted& wanted) {
    const auto there = wanted.written();
    const auto stands = [&](const std::string& needs) {
        if (there.empty()) return needs + "no chord begins there.";
        return needs + tune::listed(there) + (there.size() > 1 ? " stand there." : " stands there.");
    };
    if (is_family(take))
        return stands("None of its " + tune::in_words(take.rules.size()) + " rules finds its chords; ");
    const auto& rule = rule_of(situation, take.rules.front());
    return stands("It needs " + rules::find_words(rule, wanted.tonic_of(rule)) + "; ");
}

/// What speaks against it on the written chords: its nearest miss, of a family the rule that misses by least,
/// or that its chords are not there. Nothing where it fits.
std::optional<std::string> why_not_there(const Situation& situation, const Take& take) {
    const Wanted wanted(situation, take);
    const auto explained = wanted.explained();
    if (explained.empty()) return what_it_needs(situation, take, wanted);
    const auto nearest =
        std::min_element(explained.begin(), explained.end(), [&](const Judged& a, const Judged& b) {
            return miss_of(situation.chart, a) < miss_of(situation.chart, b);
        });
    if (nearest->verdict.allowed()) return std::nullopt;
    const auto& sentence = nearest->verdict.refusals.front().sentence;
    if (!is_family(take)) return sentence;
    return '"' + rule_of(situation, nearest->placement.leading().rule).title + "\" comes nearest. " +
           sentence;
}

void tell_denied(const Situation& situation, const Take& take, const std::string& why, text::Sink& sink) {
    const auto& first = rule_of(situation, take.rules.front());
    const auto subject = is_family(take) ? "No rule of the family " + first.family + " can stand at "
                                         : first.title + " cannot stand at ";
    sink.emit(text::Code::take_not_possible, take.at.span,
              subject + tune::to_string(take.at) + ": " + theory::in_one_hand(why));
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
    void try_to_take(const Take& take) {
        const auto order = meant_by(take);
        if (demand_one(lattice_, order)) {
            ++taken_;
            return;
        }
        tell_denied(situation_, take, why_not(take, order), sink_);
    }
    std::vector<int> meant_by(const Take& take) const {
        std::vector<int> order;
        for (std::size_t i = 0; i < pool_.placements.size(); ++i) {
            if (is_meant(situation_, take, pool_.placements[i].placement))
                order.push_back(static_cast<int>(i));
        }
        std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
            return better(pool_.placements[static_cast<std::size_t>(a)],
                          pool_.placements[static_cast<std::size_t>(b)]);
        });
        return order;
    }
    bool demand_one(TuneLattice& lattice, const std::vector<int>& order) const {
        for (const int index : order) {
            lattice.demand(index);
            if (best_path(unroll(lattice.lattice(), node_limit_).graph)) return true;
            lattice.forget_demand();
        }
        return false;
    }
    std::string why_not(const Take& take, const std::vector<int>& order) const {
        if (auto sentence = why_not_there(situation_, take)) return std::move(*sentence);
        return order.empty() ? does_not_go(take) : no_way_through(take, order);
    }
    /// It fits, and yet no version has it.
    std::string no_way_through(const Take& take, const std::vector<int>& order) const {
        TuneLattice by_itself(situation_, pool_.placements);
        if (taken_ > 0 && demand_one(by_itself, order))
            return std::string(is_family(take) ? "What fits there" : "It") +
                   " does not go with what else the plan takes.";
        auto plan = situation_.plan;
        plan.plan.at_most.reset();
        const Situation free{situation_.tune, situation_.chart, situation_.rules, plan, situation_.symbols};
        TuneLattice without_count(free, pool_.placements);
        if (situation_.plan.plan.at_most && demand_one(without_count, order))
            return "The plan has no room for it: it allows " +
                   tune::count_of(*situation_.plan.plan.at_most, "change") + ".";
        return does_not_go(take);
    }

    const Situation& situation_;
    const Pool& pool_;
    TuneLattice& lattice_;
    std::size_t node_limit_;
    int taken_ = 0;
    text::Sink sink_;
};

}  // namespace

bool is_taken(const Situation& situation, const rules::Placement& placement) {
    const auto& take = situation.plan.take;
    return std::any_of(take.begin(), take.end(),
                       [&](const Take& one) { return is_meant(situation, one, placement); });
}

void keep_what_is_taken(const Situation& situation, const PoolWish& wish, Pool& pool) {
    for (const auto& take : situation.plan.take) {
        if (take.rules.empty()) continue;
        const Wanted wanted(situation, take);
        for (auto& judged : wanted.alone()) put(pool, std::move(judged));
        const bool there =
            std::any_of(pool.placements.begin(), pool.placements.end(),
                        [&](const Judged& one) { return is_meant(situation, take, one.placement); });
        if (there || pool.dropped == 0) continue;
        for (auto& judged : wanted.stacked(wish)) put(pool, std::move(judged));
    }
}

void take_demands(const Situation& situation, const Pool& pool, TuneLattice& lattice, std::size_t node_limit,
                  Diagnostics& diagnostics) {
    auto said = Taker(situation, pool, lattice, node_limit).run();
    diagnostics.insert(diagnostics.end(), said.begin(), said.end());
}

Diagnostics denied_takes(const tune::Tune& tune, const analysis::Analysis& analysis,
                         const rules::RuleSet& rules) {
    constexpr int deepest = 3;  // beyond, so much can be made of a chord that looking takes seconds
    text::Sink sink;
    for (const auto& plan : tune.plans) {
        if (plan.take.empty() || plan.each_time_different) continue;
        Wish its_own;
        its_own.plan = plan.name;
        const auto bound = bind_plan(tune, rules, its_own);
        if (!bound.value || bound.value->depth > deepest) continue;
        const auto chart = chart_for(*bound.value, tune, analysis);
        const Situation situation{tune, chart, rules, *bound.value};
        PoolWish wish;
        wish.depth = bound.value->depth;
        for (const auto& take : bound.value->take) {
            if (take.rules.empty()) continue;
            const Wanted wanted(situation, take);
            if (!wanted.alone().empty() || !wanted.stacked(wish).empty()) continue;
            tell_denied(situation, take, why_not_there(situation, take).value_or(does_not_go(take)), sink);
        }
    }
    return sink.take();
}

}  // namespace relead::reharm
