#include "reharm/pool.h"

#include <algorithm>
#include <cstdint>
#include <map>
#include <tuple>

#include "reharm/cost_terms.h"
#include "reharm/detour.h"
#include "reharm/kept_places.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

using rules::Placement;

/// Chords around a placement that a rule stacked on it may reach.
constexpr int reach = 4;

bool same_needs(const std::vector<rules::Need>& a, const std::vector<rules::Need>& b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i) {
        const auto& x = a[i];
        const auto& y = b[i];
        if (x.negated != y.negated || x.element.alternatives.size() != y.element.alternatives.size())
            return false;
        for (std::size_t k = 0; k < x.element.alternatives.size(); ++k) {
            const auto& p = x.element.alternatives[k];
            const auto& q = y.element.alternatives[k];
            if (p.kinds != q.kinds || p.degree != q.degree || (p.degree && x.tonic != y.tonic)) return false;
        }
    }
    return true;
}

/// What placements of the same music have in common, with little else: where it stands, and each chord's root
/// and time.
using Sketch = std::vector<std::int64_t>;

Sketch sketch_of(const Placement& placement) {
    Sketch sketch{placement.begin, placement.end};
    for (const auto& chord : placement.chords)
        sketch.insert(sketch.end(), {chord.at.numerator(), chord.at.denominator(), chord.chord.root.fifths,
                                     std::int64_t{chord.chord.quality.row}});
    return sketch;
}

/// Equal for the search: the same music that asks the same of its neighbours and lands by the same threads.
bool interchangeable(const Placement& a, const Placement& b) {
    if (a.chords.empty() || !rules::same_music(a, b) || !same_needs(a.left, b.left) ||
        !same_needs(a.right, b.right))
        return false;
    const auto& x = a.chords.back();
    const auto& y = b.chords.back();
    return (x.kept_from && y.kept_from) || (x.rule == y.rule && x.item == y.item);
}

class PoolBuilder {
public:
    PoolBuilder(const Situation& situation, const PoolWish& wish) : situation_(situation), wish_(wish) {
        if (wish_.last < 0) wish_.last = situation.chart.size();
    }

    Pool run() {
        const auto& chart = situation_.chart;
        rules::MatchWish here;
        here.audience = situation_.plan.audience;
        here.explain = wish_.explain;
        here.open_contexts = !wish_.explain;
        here.last = wish_.last;
        for (auto& match : matches_in(chart, here)) {
            const auto& candidate = match.candidate;
            if (candidate.begin >= wish_.last || candidate.end <= wish_.first) continue;
            if (auto placement = rules::place(chart, candidate)) add(std::move(*placement), match.objections);
        }
        std::size_t from = 0;
        for (int round = 2; round <= wish_.depth; ++round) {
            const auto to = all_.size();
            for (auto i = from; i < to; ++i) stack_on(i);
            from = to;
        }
        pool_.depth_reached = from < all_.size() && wish_.depth > 1;
        if (pool_.depth_reached)
            pool_.notes.push_back("substitutions stacked " +
                                  tune::in_words(static_cast<std::size_t>(wish_.depth)) + " deep at most");
        finish();
        return std::move(pool_);
    }

private:
    std::vector<rules::Match> matches_in(const rules::Chart& chart, const rules::MatchWish& wish) const {
        std::vector<rules::Match> all;
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
        auto judged = judge(situation_, std::move(placement), wish_.explain ? Reasons::all : Reasons::first);
        if (wish_.explain && !judged.placement.chords.empty()) judge_in_chart(judged);
        auto& refusals = judged.verdict.refusals;
        std::vector<Refusal> by_rule;
        for (const auto& objection : objections) {
            // Two lines of a rule may object to one chord: that is said once.
            const bool told = std::any_of(by_rule.begin(), by_rule.end(), [&](const Refusal& refusal) {
                return refusal.sentence == objection.sentence;
            });
            if (!told) by_rule.push_back({Refusal::Kind::rule, objection.sentence, objection.kind});
        }
        refusals.insert(refusals.begin(), by_rule.begin(), by_rule.end());
        if (!judged.verdict.allowed() && !wish_.explain) return;
        auto& alike = sounding_like_[sketch_of(judged.placement)];
        for (const auto i : alike) {
            auto& known = all_[i];
            if (known.verdict.allowed() != judged.verdict.allowed()) continue;
            if (!interchangeable(known.placement, judged.placement)) continue;
            if (better(judged, known)) known = std::move(judged);
            return;
        }
        alike.push_back(all_.size());
        starting_at_[judged.placement.begin].push_back(all_.size());
        all_.push_back(std::move(judged));
    }
    void judge_in_chart(Judged& judged) const {
        judge_boundaries(situation_, situation_.chart, judged.placement.begin, judged.placement.end - 1,
                         judged);
    }
    /// Rules on what placement `index` wrote. A rule that gives back the same music, or the
    /// written root, is not stacked.
    void stack_on(std::size_t index) {
        if (!all_[index].verdict.allowed()) return;
        const auto& base = all_[index].placement;
        const auto [first, last] = window(base);
        const auto part = wish_.explain ? situation_.chart : rules::cut(situation_.chart, first, last);
        std::vector<Placement> laid{base};
        if (!wish_.explain) {
            laid.front().begin -= first;
            laid.front().end -= first;
        }
        const auto made = rules::chart_with(part, laid);
        const int start = laid.front().begin;
        const int end = start + static_cast<int>(base.chords.size());
        rules::MatchWish on_it;
        on_it.audience = situation_.plan.audience;
        on_it.open_contexts = !wish_.explain;
        on_it.over_made = true;
        on_it.first = std::max(0, start - reach);
        on_it.last = end;
        std::vector<Placement> found;
        for (const auto& match : matches_in(made.chart, on_it)) {
            auto stacked = rules::stack(situation_.chart, made, base, match.candidate);
            if (!stacked || rules::same_music(*stacked, base) || leads_back(situation_.chart, base, *stacked))
                continue;
            found.push_back(std::move(*stacked));
        }
        for (auto& stacked : found) add(std::move(stacked), {});  // `base` may move now
    }
    /// The spots around a placement that are joined to it, a few on either side.
    std::pair<int, int> window(const Placement& placement) const {
        int first = placement.begin, last = placement.end;
        while (placement.begin - first < reach && situation_.chart.joined(first - 1)) --first;
        while (last - placement.end < reach && situation_.chart.joined(last - 1)) ++last;
        return {first, last};
    }
    void finish() {
        pool_.built = static_cast<int>(all_.size());
        for (auto& [start, indices] : starting_at_) {
            std::stable_sort(indices.begin(), indices.end(), [&](std::size_t a, std::size_t b) {
                if (all_[a].verdict.allowed() != all_[b].verdict.allowed()) return all_[a].verdict.allowed();
                return better(all_[a], all_[b]);
            });
            int kept = 0;
            for (const auto i : indices) {
                if (kept++ < wish_.alternatives || wish_.explain)
                    pool_.placements.push_back(std::move(all_[i]));
            }
            if (kept <= wish_.alternatives || wish_.explain) continue;
            const int dropped = kept - wish_.alternatives;
            pool_.dropped += dropped;
            pool_.notes.push_back(std::to_string(dropped) + " dropped at " +
                                  rules::place_name(situation_.chart, start));
        }
    }

    const Situation& situation_;
    PoolWish wish_;
    std::vector<Judged> all_;
    std::map<int, std::vector<std::size_t>> starting_at_;
    std::map<Sketch, std::vector<std::size_t>> sounding_like_;  ///< as they came
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

void charge_lost_places(const Situation& situation, Pool& pool) {
    for (auto& judged : pool.placements) {
        const int lost = places_lost(situation.chart, judged.placement);
        if (lost == 0) continue;
        const int value = lost * other_function(situation.plan.ceiling);
        judged.verdict.terms.push_back({"other-function", value});
        judged.verdict.cost += value;
    }
}

}  // namespace relead::reharm
