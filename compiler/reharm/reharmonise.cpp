#include "reharm/reharmonise.h"

#include <algorithm>
#include <cstdlib>
#include <iterator>

#include "reharm/describe.h"
#include "reharm/idea_sentence.h"
#include "reharm/no_choice.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "reharm/respell.h"
#include "reharm/search.h"
#include "reharm/takes.h"
#include "reharm/unfold_playings.h"
#include "reharm/version_tune.h"
#include "text/diagnose.h"
#include "text/render.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

/// Something said already tells why nothing may change.
bool tells_why(const Diagnostics& diagnostics) {
    return std::any_of(diagnostics.begin(), diagnostics.end(), [](const auto& one) {
        return one.code == "no-rule-left" || one.code == "take-not-possible";
    });
}

std::vector<rules::Placement> placements_of(const std::vector<Judged>& judged) {
    std::vector<rules::Placement> all;
    for (const auto& one : judged) all.push_back(one.placement);
    return all;
}

/// Placements of a version among each other: boundaries are charged to the changes that they belong to.
void judge_neighbours(const Situation& situation, const rules::MadeChart& made,
                      std::vector<Judged>& version) {
    std::size_t spot = 0;
    for (std::size_t i = 0; i < version.size(); ++i) {
        while (made.placement_of[spot] != static_cast<int>(i)) ++spot;
        const int first = static_cast<int>(spot);
        const int last = first + static_cast<int>(version[i].placement.chords.size()) - 1;
        judge_boundaries(situation, made.chart, first, last, version[i]);
    }
}

/// ": NAME at A:4 leads to 5, and a take line asks for it", where something may stand that leads as far as
/// `wished`, or further than the versions at least. Nothing else is nearer to the wish, or as near and
/// cheaper.
std::string what_leads_further(const Situation& situation, const Pool& pool, int furthest, int wished) {
    const Judged* found = nullptr;
    const auto off = [&](const Judged& one) { return std::abs(one.outside - wished); };
    for (const auto& one : pool.placements) {
        if (!one.verdict.allowed() || one.outside <= furthest) continue;
        if (!found || off(one) < off(*found) || (off(one) == off(*found) && better(one, *found)))
            found = &one;
    }
    if (!found) return ".";
    const auto rule = static_cast<std::size_t>(found->placement.derivation.back().rule);
    auto place = tune::place_of(situation.tune, situation.chart.at(found->placement.begin).ref);
    if (place.beat == 1) place.beat = 0;
    return ": " + situation.rules.rules[rule].name + " at " + text::to_string(place) + " leads to " +
           std::to_string(found->outside) + ", and a take line asks for it.";
}

/// A wish that no version comes up to says no more than the step below it.
void tell_how_far(const Situation& situation, const Pool& pool, const std::vector<Version>& versions,
                  text::Sink& sink) {
    const auto& plan = situation.plan.plan;
    int furthest = 0;
    for (const auto& version : versions) {
        for (const auto& change : version.changes) furthest = std::max(furthest, change.outside);
    }
    if (!plan.around || furthest == 0 || furthest >= *plan.around) return;
    sink.emit(text::Code::around_not_reached, plan.around_span,
              "Around " + std::to_string(*plan.around) +
                  " was asked for; no version here goes further outside than " + std::to_string(furthest) +
                  what_leads_further(situation, pool, furthest, *plan.around));
}

Version make_version(const Situation& situation, const Wish& wish, Found found,
                     const std::vector<Version>& earlier) {
    const auto& plan = situation.plan.plan;
    auto& chosen = found.placements;
    respell_together(situation, chosen);
    const auto placements = placements_of(chosen);
    const auto made = rules::chart_with(situation.chart, placements);
    judge_neighbours(situation, made, chosen);
    Version version;
    version.name = earlier.empty() ? plan.name : plan.name + " " + std::to_string(earlier.size() + 1);
    const auto row = plan.who == tune::Plan::Who::soloist ? Row::soloist : Row::changes;
    version.tune = lay_into_tune(situation.tune, situation.chart, placements, row);
    version.changes = describe_changes(situation, made, chosen);
    const auto home = situation.tune.open_key ? std::nullopt : std::optional(situation.chart.home);
    version.idea = idea_of(version.changes, earlier, situation.rules, home);
    version.cost = static_cast<int>(found.cost);
    version.stamp = {version.name, stamp_hash(version.tune), wish.date};
    version.tune.stamp = version.stamp;
    return version;
}

Outcome<Choices> with_plan(const tune::Tune& tune, const analysis::Analysis& analysis,
                           const rules::RuleSet& rules, const Wish& wish, Outcome<BoundPlan> bound) {
    const auto chart = chart_for(*bound.value, tune, analysis);
    const Situation situation{tune, chart, rules, *bound.value};
    PoolWish pool_wish;
    pool_wish.depth = bound.value->depth;
    pool_wish.alternatives = wish.alternatives;
    auto pool = build_pool(situation, pool_wish);
    keep_what_is_taken(situation, pool_wish, pool);
    SearchWish search_wish;
    search_wish.versions = std::max(1, wish.versions);
    search_wish.dose = !wish.by_cost;
    // A free choice weighs them itself.
    if (wish.by_cost) charge_lost_places(situation, pool);
    auto result = search(situation, pool, search_wish);

    Choices choices;
    choices.plan = bound.value->plan;
    choices.report = std::move(result.report);
    for (auto& found : result.versions) {
        auto version = make_version(situation, wish, std::move(found), choices.versions);
        if (const auto other = against(version, choices.versions, rules); !other.empty())
            version.idea += " " + other;
        choices.versions.push_back(std::move(version));
    }
    auto diagnostics = std::move(bound.diagnostics);
    diagnostics.insert(diagnostics.end(), result.diagnostics.begin(), result.diagnostics.end());
    text::Sink sink;
    tell_how_far(situation, pool, choices.versions, sink);
    const auto far = sink.take();
    diagnostics.insert(diagnostics.end(), far.begin(), far.end());
    if (!tells_why(diagnostics)) {
        auto none = tell_no_choice(situation, pool, choices.versions);
        diagnostics.insert(diagnostics.end(), std::make_move_iterator(none.begin()),
                           std::make_move_iterator(none.end()));
    }
    return {std::move(choices), std::move(diagnostics)};
}

}  // namespace

Outcome<Choices> reharmonise(const tune::Tune& tune, const analysis::Analysis& analysis,
                             const rules::RuleSet& rules, const Wish& wish) {
    auto bound = bind_plan(tune, rules, wish);
    // Part of a wish would be another wish: what is said of it would only lead astray.
    if (!bound.clean()) return {std::nullopt, std::move(bound.diagnostics)};
    if (!bound.value->plan.each_time_different)
        return with_plan(tune, analysis, rules, wish, std::move(bound));
    // The plan, wishes included, moves along with the bars that it names.
    auto planned = tune;
    planned.plans = {bound.value->plan};
    const auto unfolded = unfold_playings(planned, analysis);
    Wish rest;
    rest.versions = wish.versions;
    rest.date = wish.date;
    rest.depth = wish.depth;
    rest.alternatives = wish.alternatives;
    rest.by_cost = wish.by_cost;
    auto again = bind_plan(unfolded.tune, rules, rest);
    again.diagnostics = std::move(bound.diagnostics);
    return with_plan(unfolded.tune, unfolded.analysis, rules, rest, std::move(again));
}

}  // namespace relead::reharm
