#include <algorithm>
#include <map>
#include <tuple>

#include "reharm/describe.h"
#include "reharm/near_miss.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "reharm/reharmonise.h"
#include "reharm/where_it_goes.h"
#include "text/diagnose.h"
#include "tune/check.h"

namespace relead::reharm {
namespace {

/// Spots that the address names: those of its bars, or the one that sounds on its beat.
std::pair<int, int> spots_at(const rules::Chart& chart, const tune::Tune& tune,
                             const tune::Address& address) {
    int first = -1, last = -1;
    for (int i = 0; i < chart.size(); ++i) {
        const auto& spot = chart.at(i);
        if (!address.covers(tune.sections[static_cast<std::size_t>(spot.ref.section)].name, spot.bar_number))
            continue;
        if (address.beat && (*address.beat < spot.beat() || *address.beat >= spot.beat() + spot.beats()))
            continue;
        if (first < 0) first = i;
        last = i + 1;
    }
    return {first, last};
}

/// Of a rule that may stand on any degree and fits on none over some chords, only the degree where it is
/// least far off, of several the one that is nearest to the local key; none of them where it fits on one.
void keep_the_nearest(const rules::Chart& chart, std::vector<Judged>& placements) {
    using Key = std::tuple<int, int, int>;  // rule, written chords
    using Ranked = std::pair<Miss, std::size_t>;
    const auto key_of = [](const Judged& judged) {
        return Key{judged.placement.derivation.back().rule, judged.placement.begin, judged.placement.end};
    };
    const auto ranked = [&](std::size_t i) { return Ranked{miss_of(chart, placements[i]), i}; };
    std::map<Key, Ranked> nearest;
    for (std::size_t i = 0; i < placements.size(); ++i) {
        const auto [known, fresh] = nearest.emplace(key_of(placements[i]), ranked(i));
        if (!fresh) known->second = std::min(known->second, ranked(i));
    }
    std::vector<Judged> kept;
    for (std::size_t i = 0; i < placements.size(); ++i) {
        const auto here = ranked(i);
        const bool fits = here.first.far == 0;
        if (fits || nearest.at(key_of(placements[i])) == here) kept.push_back(std::move(placements[i]));
    }
    placements = std::move(kept);
}

/// The same chords may come about in several ways, one rule upon another: of those that may be played the
/// cheapest is told. Precondition: the cheaper comes first.
void keep_the_plainest(std::vector<Judged>& placements) {
    const auto same = [](const Judged& a, const Judged& b) {
        const auto& now = a.placement.chords;
        const auto& then = b.placement.chords;
        return a.placement.begin == b.placement.begin && a.placement.end == b.placement.end &&
               std::equal(now.begin(), now.end(), then.begin(), then.end(), [](const auto& x, const auto& y) {
                   return x.at == y.at && x.length == y.length && x.chord == y.chord;
               });
    };
    std::vector<Judged> kept;
    for (auto& judged : placements) {
        const bool told =
            judged.verdict.allowed() && std::any_of(kept.begin(), kept.end(), [&](const Judged& earlier) {
                return earlier.verdict.allowed() && same(earlier, judged);
            });
        if (!told) kept.push_back(std::move(judged));
    }
    placements = std::move(kept);
}

Option describe_option(const Situation& situation, Judged judged) {
    const auto& placement = judged.placement;
    const auto& chart = situation.chart;
    const auto& first = chart.at(placement.begin);
    const auto& rule = situation.rules.rules[static_cast<std::size_t>(placement.leading().rule)];
    Option option;
    option.rule = rule.name;
    option.title = rule.title;
    option.outside = judged.outside;
    option.place = tune::place_of(situation.tune, first.ref);
    if (option.place.beat == 1) option.place.beat = 0;
    for (int i = placement.begin; i < placement.end; ++i) option.old_chords.push_back(chart.at(i).chord);
    for (const auto& chord : placement.chords) {
        option.new_chords.push_back(chord.chord);
        option.new_beats.push_back(chord.length / first.beat_length);
    }
    const auto& next = chart.at(placement.end - 1).next;
    const auto& previous = first.previous;
    option.reason = reason_for(situation, placement,
                               {previous.empty() ? nullptr : &chart.at(previous.front()).chord,
                                next.empty() ? nullptr : &chart.at(next.front()).chord});
    option.verdict = std::move(judged.verdict);
    return option;
}

}  // namespace

Outcome<std::vector<Option>> options(const tune::Tune& tune, const analysis::Analysis& analysis,
                                     const rules::RuleSet& rules, const tune::Address& spot,
                                     const Wish& wish) {
    auto bound = bind_plan(tune, rules, wish);
    if (!bound.clean()) return {std::nullopt, std::move(bound.diagnostics)};
    const auto chart = chart_for(*bound.value, tune, analysis);
    const auto [first, last] = spots_at(chart, tune, spot);
    if (first < 0) {
        text::Sink sink;
        sink.append(std::move(bound.diagnostics));
        if (tune::check_address(tune, spot, sink))
            sink.emit(text::Code::spot_without_chord, spot.span,
                      "No chord stands at " + tune::to_string(spot) + ".");
        return {std::nullopt, sink.take()};
    }
    const Situation situation{tune, chart, rules, *bound.value};
    PoolWish pool_wish;
    pool_wish.depth = bound.value->depth;
    pool_wish.explain = true;
    pool_wish.first = first;
    pool_wish.last = last;
    auto pool = build_pool(situation, pool_wish);
    std::stable_sort(pool.placements.begin(), pool.placements.end(), [](const Judged& a, const Judged& b) {
        if (a.verdict.allowed() != b.verdict.allowed()) return a.verdict.allowed();
        if (a.verdict.allowed()) return better(a, b);
        // Refused ones have no price: what misses by least comes first, then what stands first.
        return std::pair(a.verdict.refusals.size(), a.placement.begin) <
               std::pair(b.verdict.refusals.size(), b.placement.begin);
    });
    keep_the_nearest(chart, pool.placements);
    keep_the_plainest(pool.placements);
    if (spot.first_bar != spot.last_bar) {
        // Several bars are told one after the other.
        std::stable_sort(pool.placements.begin(), pool.placements.end(),
                         [](const Judged& a, const Judged& b) {
                             const auto key = [](const Judged& j) {
                                 return std::tuple(!j.verdict.allowed(), j.placement.begin, j.placement.end);
                             };
                             return key(a) < key(b);
                         });
    }
    std::vector<Option> all;
    for (auto& judged : pool.placements) {
        if (judged.placement.begin < last && judged.placement.end > first)
            all.push_back(describe_option(situation, std::move(judged)));
    }
    return {std::move(all), std::move(bound.diagnostics)};
}

}  // namespace relead::reharm
