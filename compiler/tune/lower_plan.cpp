#include "tune/lower_plan.h"

namespace relead::tune {
namespace {

using Kind = syntax::PlanLine::Kind;

void add_rules(const syntax::PlanLine& line, std::vector<RuleName>& rules) {
    for (const auto& rule : line.rules) rules.push_back({rule.text, rule.span});
}

void apply(const syntax::PlanLine& line, Plan& plan) {
    switch (line.kind) {
        case Kind::use:
            return add_rules(line, plan.use);
        case Kind::avoid:
            return add_rules(line, plan.avoid);
        case Kind::hold:
            for (const auto& place : line.places) plan.hold.push_back(lower_address(place));
            return;
        case Kind::at_most:
            plan.at_most = line.number;
            plan.at_most_per_section = line.each_section;
            return;
        case Kind::outside:
            plan.outside = line.number;
            return;
        case Kind::around:
            plan.around = line.number;
            plan.around_span = line.number_span;
            return;
        case Kind::take:
            if (!line.rules.empty() && !line.places.empty())
                plan.take.push_back(
                    {{line.rules[0].text, line.rules[0].span}, lower_address(line.places[0])});
            return;
        case Kind::never: {
            if (line.places.empty()) return;
            Plan::Never never;
            if (!line.rules.empty()) never.rule = RuleName{line.rules[0].text, line.rules[0].span};
            never.at = lower_address(line.places[0]);
            plan.never.push_back(std::move(never));
            return;
        }
        case Kind::each_time_different:
            plan.each_time_different = true;
            return;
        case Kind::melody:
            plan.melody = line.melody_warns ? Plan::MelodyPolicy::warn : Plan::MelodyPolicy::refuse;
            return;
        case Kind::depth:
            plan.depth = line.number;
            return;
        case Kind::shortest:
            plan.shortest_seconds = line.seconds;
            return;
    }
}

}  // namespace

Address lower_address(const syntax::Address& tree) {
    return {tree.section.text, tree.first_bar, tree.last_bar, tree.beat, tree.span};
}

Plan lower_plan(const syntax::Plan& tree) {
    Plan plan;
    plan.name = tree.name.text;
    plan.who = tree.who == syntax::PlanWho::band ? Plan::Who::band : Plan::Who::soloist;
    plan.where = tree.where == syntax::PlanWhere::head    ? Plan::Where::head
                 : tree.where == syntax::PlanWhere::solos ? Plan::Where::solos
                                                          : Plan::Where::all;
    plan.span = tree.span;
    for (const auto& line : tree.lines) apply(line, plan);
    return plan;
}

std::vector<RunningItem> lower_running(const syntax::RunningLine& tree) {
    std::vector<RunningItem> items;
    for (const auto& item : tree.items) {
        RunningItem lowered;
        lowered.name = item.name.text;
        lowered.times = item.times;
        lowered.open = item.open;
        lowered.on_cue = item.on_cue;
        lowered.each_soloist = item.each_soloist;
        if (item.soloist) lowered.soloist = item.soloist->text;
        if (item.written_changes) lowered.changes = RunningItem::Changes::written;
        if (item.plan) {
            lowered.plan = item.plan->text;
            lowered.plan_span = item.plan->span;
        }
        lowered.last = item.last;
        if (item.vamp) {
            lowered.vamp = item.vamp->text;
            lowered.vamp_span = item.vamp->span;
        }
        if (item.tag) lowered.tag = lower_address(*item.tag);
        lowered.tag_times = item.tag_times;
        lowered.span = item.span;
        items.push_back(std::move(lowered));
    }
    return items;
}

}  // namespace relead::tune
