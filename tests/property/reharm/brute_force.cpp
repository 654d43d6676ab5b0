#include "brute_force.h"

#include <algorithm>
#include <map>

namespace relead::testing {

using reharm::Pool;
using reharm::Situation;

Reckoning::Reckoning(const Situation& situation, const Pool& pool) : situation_(situation), pool_(pool) {
    const auto& chart = situation.chart;
    // Everything that may follow must be allowed; what the chorus plays is paid as often as it is played.
    std::map<std::pair<int, int>, int> times;
    for (int i = 0; i < chart.size(); ++i) {
        for (const int next : chart.at(i).next) times[{i, next}] = 0;
    }
    const auto& order = chart.chorus;
    for (std::size_t k = 0; k < order.size(); ++k) ++times[{order[k], order[(k + 1) % order.size()]}];
    for (const auto& [pair, count] : times)
        boundaries_.push_back({pair.first, pair.second, std::max(1, count)});
    const auto ends = pool.placements.size() + static_cast<std::size_t>(chart.size());
    known_.assign(ends, std::vector<Known>(ends));
}

bool Reckoning::within_budget(const std::vector<int>& chosen) const {
    const auto& plan = situation_.plan.plan;
    if (!plan.at_most) return true;
    std::map<int, int> spent;
    for (const int index : chosen) {
        const auto& judged = pool_.placements[static_cast<std::size_t>(index)];
        const auto& first = situation_.chart.at(judged.placement.begin);
        auto& sum = spent[plan.at_most_per_section ? first.ref.section : 0];
        sum += judged.touched;
        if (sum > *plan.at_most) return false;
    }
    return true;
}

bool Reckoning::apart(const std::vector<int>& chosen) const {
    for (std::size_t k = 0; k + 1 < chosen.size(); ++k) {
        if (pool_.placements[static_cast<std::size_t>(chosen[k])].placement.end >
            pool_.placements[static_cast<std::size_t>(chosen[k + 1])].placement.begin)
            return false;
    }
    return true;
}

std::optional<std::int64_t> Reckoning::cost(const std::vector<int>& chosen) const {
    if (!within_budget(chosen)) return std::nullopt;
    const auto& chart = situation_.chart;
    std::vector<int> owner(static_cast<std::size_t>(chart.size()), -1);
    std::int64_t sum = 0;
    for (const int index : chosen) {
        const auto& judged = pool_.placements[static_cast<std::size_t>(index)];
        sum += std::int64_t{judged.verdict.cost} * chart.at(judged.placement.begin).playings;
        for (int i = judged.placement.begin; i < judged.placement.end; ++i)
            owner[static_cast<std::size_t>(i)] = index;
    }
    for (const auto& [from, to, times] : boundaries_) {
        const int left = owner[static_cast<std::size_t>(from)], right = owner[static_cast<std::size_t>(to)];
        // Inside one placement, and not round the whole of it.
        if (left >= 0 && left == right && to == from + 1) continue;
        const auto boundary = between(from, left, to, right);
        if (!boundary) return std::nullopt;
        sum += std::int64_t{*boundary} * times;
    }
    return sum;
}

std::optional<int> Reckoning::between(int from, int left, int to, int right) const {
    const auto place = [&](int spot, int index) {
        return index >= 0 ? static_cast<std::size_t>(index)
                          : pool_.placements.size() + static_cast<std::size_t>(spot);
    };
    auto& known = known_[place(from, left)][place(to, right)];
    if (!known.asked) {
        known.asked = true;
        const auto verdict =
            reharm::judge_pair(situation_.rules, end(from, left, true), end(to, right, false));
        if (!verdict.refusal) known.cost = verdict.cost();
    }
    return known.cost;
}

reharm::End Reckoning::end(int spot, int index, bool last) const {
    if (index < 0) return {&situation_.chart.at(spot).chord, nullptr};
    const auto& placement = pool_.placements[static_cast<std::size_t>(index)].placement;
    return {last ? &placement.chords.back().chord : &placement.chords.front().chord, &placement};
}

namespace {

class Trier {
public:
    Trier(const Situation& situation, const Pool& pool, std::size_t most)
        : pool_(pool), reckoning_(situation, pool), most_(most), starting_(chords(situation.chart)) {
        for (std::size_t i = 0; i < pool.placements.size(); ++i)
            starting_[static_cast<std::size_t>(pool.placements[i].placement.begin)].push_back(
                static_cast<int>(i));
    }
    Everything run() {
        go(0);
        std::stable_sort(result_.all.begin(), result_.all.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        return std::move(result_);
    }

private:
    static std::size_t chords(const rules::Chart& chart) { return static_cast<std::size_t>(chart.size()); }
    void go(std::size_t spot) {
        if (result_.too_many || !reckoning_.within_budget(chosen_)) return;
        if (spot >= starting_.size()) {
            if (const auto cost = reckoning_.cost(chosen_)) result_.all.emplace_back(*cost, chosen_);
            result_.too_many = ++tried_ > most_;
            return;
        }
        go(spot + 1);
        for (const int index : starting_[spot]) {
            chosen_.push_back(index);
            go(static_cast<std::size_t>(pool_.placements[static_cast<std::size_t>(index)].placement.end));
            chosen_.pop_back();
        }
    }

    const Pool& pool_;
    Reckoning reckoning_;
    std::size_t most_, tried_ = 0;
    std::vector<std::vector<int>> starting_;
    std::vector<int> chosen_;
    Everything result_;
};

}  // namespace

Everything try_everything(const Situation& situation, const Pool& pool, std::size_t most) {
    return Trier(situation, pool, most).run();
}

std::int64_t greedy(const Situation& situation, const Pool& pool) {
    const Reckoning reckoning(situation, pool);
    std::vector<int> chosen;
    auto cost = *reckoning.cost({});
    for (bool better = true; better;) {
        better = false;
        std::vector<int> best;
        for (std::size_t i = 0; i < pool.placements.size(); ++i) {
            auto more = chosen;
            more.push_back(static_cast<int>(i));
            std::sort(more.begin(), more.end(), [&](int a, int b) {
                return pool.placements[static_cast<std::size_t>(a)].placement.begin <
                       pool.placements[static_cast<std::size_t>(b)].placement.begin;
            });
            if (!reckoning.apart(more)) continue;
            const auto reckoned = reckoning.cost(more);
            if (reckoned && *reckoned < cost) {
                cost = *reckoned;
                best = more;
                better = true;
            }
        }
        if (better) chosen = best;
    }
    return cost;
}

std::vector<std::string> sound(const rules::Chart& chart,
                               const std::vector<const rules::Placement*>& placements) {
    std::vector<std::string> all;
    for (const auto& spot : chart.spots)
        all.push_back(theory::to_string(spot.chord, theory::SymbolStyle::plain) + "@0");
    for (const auto* placement : placements) {
        const auto start = chart.at(placement->begin).start;
        for (int i = placement->begin; i < placement->end; ++i) {
            std::string text;
            for (const auto& chord : placement->chords) {
                const auto from = std::max(start + chord.at, chart.at(i).start);
                if (from < chart.at(i).end() && start + chord.at + chord.length > chart.at(i).start)
                    text += theory::to_string(chord.chord, theory::SymbolStyle::plain) + "@" +
                            (from - chart.at(i).start).to_string();
            }
            all[static_cast<std::size_t>(i)] = text;
        }
    }
    return all;
}

int difference(const std::vector<std::string>& a, const std::vector<std::string>& b) {
    int count = 0;
    for (std::size_t i = 0; i < a.size(); ++i) count += a[i] != b[i] ? 1 : 0;
    return count;
}

}  // namespace relead::testing
