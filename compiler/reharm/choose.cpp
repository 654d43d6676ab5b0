#include "reharm/choose.h"

#include <algorithm>
#include <map>

#include "reharm/cost_terms.h"
#include "reharm/guard.h"
#include "text/diagnose.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

std::vector<rules::Placement> placements_of(const std::vector<Judged>& judged) {
    std::vector<rules::Placement> all;
    for (const auto& one : judged) all.push_back(one.placement);
    return all;
}

/// First and last spot of each placement in the made chart.
std::pair<int, int> range_of(const rules::MadeChart& made, int placement) {
    const auto& owners = made.placement_of;
    const auto first = std::find(owners.begin(), owners.end(), placement) - owners.begin();
    auto last = first;
    while (last + 1 < static_cast<std::ptrdiff_t>(owners.size()) &&
           owners[static_cast<std::size_t>(last) + 1] == placement)
        ++last;
    return {static_cast<int>(first), static_cast<int>(last)};
}

class GreedyChoice {
public:
    GreedyChoice(const Situation& situation, const Pool& pool) : situation_(situation), pool_(pool) {}

    Chosen run() {
        for (const auto& take : situation_.plan.take) take_wished(take);
        std::vector<const Judged*> order;
        for (const auto& judged : pool_.placements) {
            if (judged.verdict.allowed() && judged.verdict.cost < 0) order.push_back(&judged);
        }
        while (!order.empty()) {
            const auto best =
                std::min_element(order.begin(), order.end(), [&](const Judged* a, const Judged* b) {
                    const int cost_a = with_repetition(*a), cost_b = with_repetition(*b);
                    return cost_a != cost_b ? cost_a < cost_b : better(*a, *b);
                });
            const auto* judged = *best;
            order.erase(best);
            if (with_repetition(*judged) < 0) try_to_add(*judged, true);
        }
        return {std::move(chosen_), sink_.take()};
    }

private:
    /// A version that says one thing only tires the ear.
    int with_repetition(const Judged& judged) const {
        int times = 0;
        for (const auto& other : chosen_)
            times +=
                other.placement.derivation.back().rule == judged.placement.derivation.back().rule ? 1 : 0;
        return judged.verdict.cost + times * weight("repeated");
    }
    int section_of(const Judged& judged) const {
        return situation_.chart.at(judged.placement.begin).ref.section;
    }
    /// Changes that the plan still allows in a section.
    int room(int section) const {
        const auto& plan = situation_.plan.plan;
        int spent = 0, written = 0;
        for (const auto& judged : chosen_) {
            if (!plan.at_most_per_section || section_of(judged) == section || !plan.at_most)
                spent += judged.touched;
        }
        if (plan.at_most) return *plan.at_most - spent;
        // Without a word in the plan: about a quarter of what is written in that section.
        spent = 0;
        for (const auto& judged : chosen_) spent += section_of(judged) == section ? judged.touched : 0;
        for (const auto& spot : situation_.chart.spots) written += spot.ref.section == section ? 1 : 0;
        return std::max(1, (written + 3) / 4) - spent;
    }
    bool overlaps(const Judged& judged) const {
        return std::any_of(chosen_.begin(), chosen_.end(), [&](const Judged& other) {
            return judged.placement.begin < other.placement.end &&
                   other.placement.begin < judged.placement.end;
        });
    }
    std::string refusal_among_others(const std::vector<Judged>& version) const {
        const auto made = rules::chart_with(situation_.chart, placements_of(version));
        for (std::size_t i = 0; i < version.size(); ++i) {
            const auto [first, last] = range_of(made, static_cast<int>(i));
            for (const int next : made.chart.at(last).next) {
                const auto& chords = version[i].placement.chords;
                if (auto sentence =
                        refuse_arrival(situation_.rules, chords.back(), made.chart.at(next).chord))
                    return *sentence;
            }
        }
        return {};
    }
    std::string try_to_add(const Judged& judged, bool within_budget) {
        if (overlaps(judged)) return "Another change stands there.";
        if (within_budget && judged.touched > room(section_of(judged)))
            return "The plan allows no further change there.";
        auto version = chosen_;
        const auto at = std::find_if(version.begin(), version.end(), [&](const Judged& other) {
            return other.placement.begin > judged.placement.begin;
        });
        version.insert(at, judged);
        auto sentence = refusal_among_others(version);
        if (sentence.empty()) chosen_ = std::move(version);
        return sentence;
    }
    bool stands_at(const Judged& judged, const tune::Address& address) const {
        for (int i = judged.placement.begin; i < judged.placement.end; ++i) {
            const auto& spot = situation_.chart.at(i);
            const auto& section = situation_.tune.sections[static_cast<std::size_t>(spot.ref.section)].name;
            if (address.covers(section, spot.bar_number) && (!address.beat || *address.beat == spot.beat()))
                return true;
        }
        return false;
    }
    void take_wished(const BoundPlan::Take& take) {
        if (take.rules.empty()) return;
        const Judged* best = nullptr;
        for (const auto& judged : pool_.placements) {
            const int last_rule = judged.placement.derivation.back().rule;
            if (std::find(take.rules.begin(), take.rules.end(), last_rule) == take.rules.end()) continue;
            if (!stands_at(judged, take.at) || !judged.verdict.allowed()) continue;
            if (!best || better(judged, *best)) best = &judged;
        }
        const auto problem = best ? try_to_add(*best, true) : why_not(take);
        if (problem.empty()) return;
        const auto& rule = situation_.rules.rules[static_cast<std::size_t>(take.rules.front())];
        sink_.emit(text::Code::take_not_possible, take.at.span,
                   rule.title + " cannot stand at " + tune::to_string(take.at) + ": " + problem);
    }
    /// The refusal of the nearest miss.
    std::string why_not(const BoundPlan::Take& take) const {
        PoolWish wish;
        wish.depth = 1;
        wish.explain = true;
        for (const auto& judged : build_pool(situation_, wish).placements) {
            const int last_rule = judged.placement.derivation.back().rule;
            if (std::find(take.rules.begin(), take.rules.end(), last_rule) == take.rules.end()) continue;
            if (stands_at(judged, take.at) && !judged.verdict.allowed())
                return judged.verdict.refusals.front().sentence;
        }
        return "its chords are not there.";
    }

    const Situation& situation_;
    const Pool& pool_;
    std::vector<Judged> chosen_;
    text::Sink sink_;
};

}  // namespace

Chosen choose(const Situation& situation, const Pool& pool) {
    return GreedyChoice(situation, pool).run();
}

void judge_in_version(const Situation& situation, const rules::MadeChart& made,
                      std::vector<Judged>& version) {
    for (std::size_t i = 0; i < version.size(); ++i) {
        const auto [first, last] = range_of(made, static_cast<int>(i));
        version[i] = judge(situation, std::move(version[i].placement));
        const auto& next = made.chart.at(last).next;
        const auto& previous = made.chart.at(first).previous;
        if (!next.empty())
            judge_arrival(situation, version[i], made.chart.at(next.front()).chord, version[i].verdict);
        if (!previous.empty())
            judge_departure(situation, version[i], made.chart.at(previous.front()).chord, version[i].verdict);
    }
}

}  // namespace relead::reharm
