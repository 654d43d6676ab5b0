#include "reharm/reharmonise.h"

#include "reharm/choose.h"
#include "reharm/describe.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "reharm/unfold_playings.h"
#include "reharm/version_tune.h"
#include "text/diagnose.h"

namespace relead::reharm {
namespace {

std::vector<rules::Placement> placements_of(const std::vector<Judged>& judged) {
    std::vector<rules::Placement> all;
    for (const auto& one : judged) all.push_back(one.placement);
    return all;
}

Version make_version(const Situation& situation, const Wish& wish, std::vector<Judged> chosen) {
    const auto& plan = situation.plan.plan;
    const auto placements = placements_of(chosen);
    const auto made = rules::chart_with(situation.chart, placements);
    judge_in_version(situation, made, chosen);
    Version version;
    version.name = plan.name;
    const auto row = plan.who == tune::Plan::Who::soloist ? Row::soloist : Row::changes;
    version.tune = lay_into_tune(situation.tune, situation.chart, placements, row);
    version.changes = describe_changes(situation, made, chosen);
    version.idea = idea_of(version.changes);
    for (const auto& change : version.changes) version.cost += change.cost;
    version.stamp = {plan.name, stamp_hash(version.tune), wish.date};
    version.tune.stamp = version.stamp;
    return version;
}

Outcome<Choices> with_plan(const tune::Tune& tune, const analysis::Analysis& analysis,
                           const rules::RuleSet& rules, const Wish& wish, Outcome<BoundPlan> bound) {
    const auto chart = rules::make_chart(tune, analysis);
    const Situation situation{tune, chart, rules, *bound.value};
    const auto pool = build_pool(situation, {bound.value->depth, false, 0, -1});
    auto chosen = choose(situation, pool);

    Choices choices;
    choices.plan = bound.value->plan;
    choices.report.built = pool.built;
    choices.versions.push_back(make_version(situation, wish, std::move(chosen.placements)));
    auto diagnostics = std::move(bound.diagnostics);
    diagnostics.insert(diagnostics.end(), chosen.diagnostics.begin(), chosen.diagnostics.end());
    return {std::move(choices), std::move(diagnostics)};
}

}  // namespace

Outcome<Choices> reharmonise(const tune::Tune& tune, const analysis::Analysis& analysis,
                             const rules::RuleSet& rules, const Wish& wish) {
    auto bound = bind_plan(tune, rules, wish);
    if (!bound.value) return {std::nullopt, std::move(bound.diagnostics)};
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
    auto again = bind_plan(unfolded.tune, rules, rest);
    again.diagnostics = std::move(bound.diagnostics);
    return with_plan(unfolded.tune, unfolded.analysis, rules, rest, std::move(again));
}

}  // namespace relead::reharm
