#include "reharm/plan_binding.h"

#include <algorithm>
#include <sstream>

#include "reharm/rule_names.h"
#include "text/diagnose.h"
#include "tune/check.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

class PlanBinder {
public:
    PlanBinder(const tune::Tune& tune, const rules::RuleSet& rules, const Wish& wish)
        : tune_(tune), rules_(rules), wish_(wish) {}

    Outcome<BoundPlan> run() {
        if (!pick_plan()) return {std::nullopt, sink_.take()};
        take_wishes();
        set_limits();
        mark_usable();
        check_wishes();
        bind_places();
        return {std::move(bound_), sink_.take()};
    }

private:
    bool pick_plan() {
        if (!wish_.plan) {
            if (!tune_.plans.empty()) {
                bound_.plan = tune_.plans.front();
            } else {
                bound_.plan.name = "plain";
                bound_.plan.span = nowhere;
            }
            return true;
        }
        std::vector<std::string> names;
        for (const auto& plan : tune_.plans) {
            if (plan.name == *wish_.plan) {
                bound_.plan = plan;
                return true;
            }
            names.push_back(plan.name);
        }
        auto sentence = "The tune has no plan \"" + *wish_.plan + "\".";
        if (names.empty()) sentence = "The tune has no plans; leave --plan out to choose freely.";
        if (names.size() == 1) sentence += " Its only plan is " + quoted_list(names) + ".";
        if (names.size() > 1) sentence += " Its plans are " + quoted_list(names) + ".";
        if (are_all(*wish_.plan, names)) sentence += " Ask for each on its own.";
        sink_.emit(text::Code::unknown_plan, nowhere, sentence);
        return false;
    }
    /// "mild,open water": several names in one.
    static bool are_all(const std::string& wished, const std::vector<std::string>& names) {
        std::stringstream parts(wished);
        bool all = wished.find(',') != std::string::npos;
        for (std::string part; all && std::getline(parts >> std::ws, part, ',');)
            all = std::find(names.begin(), names.end(), part) != names.end();
        return all;
    }
    static std::string quoted_list(std::vector<std::string> names) {
        for (auto& name : names) name = '"' + name + '"';
        return tune::listed(names);
    }
    void take_wishes() {
        auto& plan = bound_.plan;
        if (!wish_.use.empty()) plan.use.clear();
        for (const auto& name : wish_.use) plan.use.push_back({name, nowhere});
        for (const auto& name : wish_.avoid) plan.avoid.push_back({name, nowhere});
        plan.hold.insert(plan.hold.end(), wish_.hold.begin(), wish_.hold.end());
        if (wish_.outside) plan.outside = wish_.outside;
        if (wish_.around) {
            plan.around = wish_.around;
            plan.around_span = nowhere;
        }
        if (wish_.depth) plan.depth = wish_.depth;
    }
    void set_limits() {
        const auto& plan = bound_.plan;
        const bool soloist = plan.who == tune::Plan::Who::soloist;
        bound_.audience = soloist ? rules::Audience::soloist : rules::Audience::band;
        // Without a ceiling: a step beyond the wish, else as far as a band agrees on at sight.
        bound_.ceiling = plan.outside ? *plan.outside : plan.around ? std::min(5, *plan.around + 1) : 3;
        bound_.wished_level = plan.around;
        constexpr int usual_depth = 2;
        bound_.depth = plan.depth.value_or(usual_depth);
        bound_.shortest_seconds = plan.shortest_seconds ? plan.shortest_seconds->to_double()
                                  : soloist             ? 0.8
                                                        : 0.5;
        bound_.melody_refuses = plan.melody == tune::Plan::MelodyPolicy::refuse;
    }
    /// The rule of that name alone, or else its family.
    std::vector<int> rule_called(const tune::RuleName& name) {
        for (std::size_t i = 0; i < rules_.rules.size(); ++i) {
            if (rules_.rules[i].name == name.name) return {static_cast<int>(i)};
        }
        return known_rules(name);
    }
    /// The rules of that name or family; says so where there are none.
    std::vector<int> known_rules(const tune::RuleName& name) {
        auto found = rules_called(rules_, name);
        if (found.empty()) tell_unknown_rule(rules_, name, text::Code::unknown_rule, sink_);
        return found;
    }
    void mark_usable() {
        const auto count = rules_.rules.size();
        bound_.usable.assign(count, bound_.plan.use.empty());
        for (const auto& name : bound_.plan.use) {
            for (const int rule : known_rules(name)) bound_.usable[static_cast<std::size_t>(rule)] = true;
        }
        for (const auto& name : bound_.plan.avoid) {
            for (const int rule : known_rules(name)) bound_.usable[static_cast<std::size_t>(rule)] = false;
        }
    }
    /// What the tune's own plans say was checked when the tune was read.
    void check_wishes() {
        const auto& plan = bound_.plan;
        if (wish_.around && plan.outside && *wish_.around > *plan.outside)
            sink_.emit(text::Code::plan_contradiction, nowhere,
                       "Around " + std::to_string(*plan.around) + " lies beyond the ceiling, outside " +
                           std::to_string(*plan.outside) + ": raise the ceiling or wish for less.");
        if (sink_.has_errors() || rules_.rules.empty()) return;
        const auto lowest = lowest_level();
        if (!lowest && some_usable())
            sink_.emit(text::Code::no_rule_left, nowhere,
                       all_rules() + " are for " +
                           (for_soloist() ? "the band, and these changes are for a soloist"
                                          : "soloists, and these changes are for the band") +
                           ": the changes stay as they are.");
        else if (!lowest)
            sink_.emit(
                text::Code::no_rule_left, nowhere,
                (speaks_the_plan() ? "The plan \"" + plan.name + '"' : std::string("What is to be avoided")) +
                    " leaves no rule to use: the changes stay as they are.");
        else if (*lowest > bound_.ceiling)
            sink_.emit(text::Code::no_rule_left, nowhere,
                       all_rules() + " lead further outside (" + std::to_string(*lowest) +
                           ") than the ceiling (" + std::to_string(bound_.ceiling) +
                           "): the changes stay as they are.");
    }
    /// The rules in question are those of a plan of the tune; else the command has a say in them.
    [[nodiscard]] bool speaks_the_plan() const {
        return wish_.use.empty() && wish_.avoid.empty() && !tune_.plans.empty();
    }
    [[nodiscard]] std::string all_rules() const {
        return speaks_the_plan() ? "All rules that the plan \"" + bound_.plan.name + "\" uses"
                                 : "All rules asked for";
    }
    [[nodiscard]] bool for_soloist() const { return bound_.audience == rules::Audience::soloist; }
    [[nodiscard]] bool is_for_them(const rules::Rule& rule) const {
        return rule.audience == rules::Audience::everybody || rule.audience == bound_.audience;
    }
    /// There are rules to use, whoever they are for.
    [[nodiscard]] bool some_usable() const {
        return std::find(bound_.usable.begin(), bound_.usable.end(), true) != bound_.usable.end();
    }
    /// Of the rules that may be used by those who play; nothing when there is none.
    [[nodiscard]] std::optional<int> lowest_level() const {
        std::optional<int> lowest;
        for (std::size_t i = 0; i < rules_.rules.size(); ++i) {
            if (bound_.usable[i] && is_for_them(rules_.rules[i]))
                lowest = std::min(lowest.value_or(rules_.rules[i].outside), rules_.rules[i].outside);
        }
        return lowest;
    }
    void bind_places() {
        for (const auto& take : bound_.plan.take) bound_.take.push_back({rule_called(take.rule), take.at});
        for (const auto& never : bound_.plan.never) {
            BoundPlan::Never bound{{}, never.at};
            if (never.rule) bound.rules = known_rules(*never.rule);
            if (!never.rule || !bound.rules.empty()) bound_.never.push_back(std::move(bound));
        }
        for (const auto& hold : wish_.hold) tune::check_address(tune_, hold, sink_);
    }

    const tune::Tune& tune_;
    const rules::RuleSet& rules_;
    const Wish& wish_;
    text::Sink sink_;
    BoundPlan bound_;
};

}  // namespace

rules::Chart chart_for(const BoundPlan& plan, const tune::Tune& tune, const analysis::Analysis& analysis) {
    auto chart = rules::make_chart(tune, analysis);
    if (plan.plan.where == tune::Plan::Where::solos)
        chart.melodies = std::make_shared<const rules::Melodies>();
    return chart;
}

Outcome<BoundPlan> bind_plan(const tune::Tune& tune, const rules::RuleSet& rules, const Wish& wish) {
    return PlanBinder(tune, rules, wish).run();
}

}  // namespace relead::reharm
