#include "reharm/pool.h"

#include <algorithm>
#include <tuple>

namespace relead::reharm {
namespace {

using rules::Placement;

bool same_music(const Placement& a, const Placement& b) {
    if (a.begin != b.begin || a.end != b.end || a.chords.size() != b.chords.size()) return false;
    for (std::size_t i = 0; i < a.chords.size(); ++i) {
        if (a.chords[i].at != b.chords[i].at || !(a.chords[i].chord == b.chords[i].chord)) return false;
    }
    return true;
}

class PoolBuilder {
public:
    PoolBuilder(const Situation& situation, const PoolWish& wish) : situation_(situation), wish_(wish) {
        if (wish_.last < 0) wish_.last = situation.chart.size();
    }

    Pool run() {
        for (auto& match : match(situation_.chart)) {
            if (match.candidate.begin < wish_.last && match.candidate.end > wish_.first)
                add(rules::place(situation_.chart, match.candidate), match.objections);
        }
        std::size_t from = 0;
        for (int round = 2; round <= wish_.depth; ++round) {
            const auto to = pool_.placements.size();
            for (auto i = from; i < to; ++i) stack_on(i);
            from = to;
        }
        finish();
        return std::move(pool_);
    }

private:
    std::vector<rules::Match> match(const rules::Chart& chart) const {
        std::vector<rules::Match> all;
        const rules::MatchWish wish{situation_.plan.audience, wish_.explain};
        for (std::size_t rule = 0; rule < situation_.rules.rules.size(); ++rule) {
            if (!wish_.explain && !usable(rule)) continue;
            auto some = rules::match_rule(situation_.rules, static_cast<int>(rule), chart, wish);
            all.insert(all.end(), std::make_move_iterator(some.begin()), std::make_move_iterator(some.end()));
        }
        return all;
    }
    bool usable(std::size_t rule) const {
        return situation_.plan.usable[rule] &&
               situation_.rules.rules[rule].outside <= situation_.plan.ceiling;
    }
    void add(Placement placement, const std::vector<rules::Objection>& objections) {
        ++pool_.built;
        auto judged = judge(situation_, std::move(placement));
        judge_in_written(situation_, judged);
        std::vector<Refusal> refusals;
        for (const auto& objection : objections)
            refusals.push_back({Refusal::Kind::rule, objection.sentence});
        auto& all = judged.verdict.refusals;
        all.insert(all.begin(), refusals.begin(), refusals.end());
        if (judged.verdict.allowed() || wish_.explain) pool_.placements.push_back(std::move(judged));
    }
    /// Rules on what placement `index` wrote. Two rules never write the same music again.
    void stack_on(std::size_t index) {
        if (!pool_.placements[index].verdict.allowed()) return;
        const std::vector<Placement> base{pool_.placements[index].placement};
        const auto made = rules::chart_with(situation_.chart, base);
        for (auto& match : match(made.chart)) {
            if (!match.fits() || !touches(made, match.candidate)) continue;
            auto stacked = rules::stack(situation_.chart, made, base, match.candidate);
            if (!same_music(stacked, base.front())) add(std::move(stacked), {});
        }
    }
    static bool touches(const rules::MadeChart& made, const rules::Candidate& candidate) {
        for (int i = candidate.begin; i < candidate.end; ++i) {
            if (made.placement_of[static_cast<std::size_t>(i)] >= 0 && made.chart.at(i).made) return true;
        }
        return false;
    }
    void finish() {
        auto& all = pool_.placements;
        std::stable_sort(all.begin(), all.end(), [](const Judged& a, const Judged& b) {
            if (a.placement.begin != b.placement.begin) return a.placement.begin < b.placement.begin;
            if (a.verdict.allowed() != b.verdict.allowed()) return a.verdict.allowed();
            return better(a, b);
        });
        std::vector<Judged> kept;
        for (auto& judged : all) {
            const bool known = std::any_of(kept.begin(), kept.end(), [&](const Judged& k) {
                return k.placement.begin == judged.placement.begin && k.verdict.allowed() &&
                       same_music(k.placement, judged.placement);
            });
            if (!known) kept.push_back(std::move(judged));
        }
        all = std::move(kept);
    }

    const Situation& situation_;
    PoolWish wish_;
    Pool pool_;
};

}  // namespace

bool better(const Judged& a, const Judged& b) {
    const auto key = [](const Judged& j) {
        return std::tuple(j.verdict.cost, j.outside, j.placement.depth(), j.placement.derivation.back().rule,
                          j.placement.begin, j.placement.end);
    };
    return key(a) < key(b);
}

Pool build_pool(const Situation& situation, const PoolWish& wish) {
    return PoolBuilder(situation, wish).run();
}

}  // namespace relead::reharm
