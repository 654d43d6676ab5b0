#include "reharm/plan_refusals.h"

#include <algorithm>

#include "reharm/touched.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

bool is_meant(const BoundPlan::Never& never, const rules::Placement& placement) {
    return never.rules.empty() ||
           std::any_of(placement.derivation.begin(), placement.derivation.end(), [&](const auto& applied) {
               return std::find(never.rules.begin(), never.rules.end(), applied.rule) != never.rules.end();
           });
}

void refuse_rules(const Situation& situation, const rules::Placement& placement,
                  std::vector<Refusal>& refusals) {
    const auto& plan = situation.plan;
    for (const auto& applied : placement.derivation) {
        const auto& rule = situation.rules.rules[static_cast<std::size_t>(applied.rule)];
        if (!plan.uses(applied.rule))
            refusals.push_back({Refusal::Kind::not_used, rule.name + " is not among the rules to be used."});
        if (rule.outside > plan.ceiling)
            refusals.push_back(
                {Refusal::Kind::outside, "It leads further outside (" + std::to_string(rule.outside) +
                                             ") than is allowed (" + std::to_string(plan.ceiling) + ")."});
    }
}

}  // namespace

bool covers(const Situation& situation, const tune::Address& place, int spot) {
    const auto& written = situation.chart.at(spot);
    const auto& section = situation.tune.sections[static_cast<std::size_t>(written.ref.section)].name;
    return place.covers(section, written.bar_number) && (!place.beat || *place.beat == written.beat());
}

std::vector<Refusal> refused_by_plan(const Situation& situation, const rules::Placement& placement) {
    std::vector<Refusal> refusals;
    refuse_rules(situation, placement, refusals);
    std::vector<int> touched;
    for (int i = placement.begin; i < placement.end; ++i) {
        if (touches(situation, placement, i)) touched.push_back(i);
    }
    for (const int spot : touched) {
        for (const auto& hold : situation.plan.plan.hold) {
            if (covers(situation, hold, spot))
                refusals.push_back({Refusal::Kind::held, tune::to_string(hold) + " is held as written."});
        }
    }
    for (const auto& never : situation.plan.never) {
        const bool here = is_meant(never, placement) &&
                          std::any_of(touched.begin(), touched.end(),
                                      [&](int spot) { return covers(situation, never.at, spot); });
        if (here)
            refusals.push_back(
                {Refusal::Kind::never, "The plan never wants it at " + tune::to_string(never.at) + "."});
    }
    return refusals;
}

}  // namespace relead::reharm
