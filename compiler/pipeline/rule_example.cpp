#include "pipeline/rule_example.h"

#include <algorithm>
#include <utility>

#include "analysis/analysis.h"
#include "base/fmt.h"
#include "report/option_table.h"
#include "rules/example_chart.h"
#include "rules/match.h"
#include "text/diagnose.h"
#include "text/render.h"
#include "text/source.h"
#include "tune/lower.h"

namespace relead::pipeline {

namespace {

std::string tune_text(const rules::ExampleChart& chart, const rules::Rule& rule, const std::string& wish) {
    auto text =
        fmt::format("tune \"{}\"\nkey {}\nmeter 4/4\ntempo 120 swing\nform A\n\nsection A\nchanges | {} |\n",
                    "Example", theory::to_string(chart.home), chart.changes);
    if (!chart.melody.empty()) text += fmt::format("melody | {} |\n", chart.melody);
    const auto* who = rule.audience == rules::Audience::soloist ? "soloist" : "band";
    return text + fmt::format("\nplan \"example\" for {}\n  outside 5\n{}", who, wish);
}

std::optional<tune::Tune> read(const std::string& bytes) {
    auto tune = tune::read_tune(text::Source("example", bytes));
    if (!tune.clean()) return std::nullopt;
    return std::move(tune.value);
}

/// The rule alone, on one chart.
class Trial {
public:
    Trial(const rules::Rule& rule, const rules::ExampleChart& chart)
        : rule_(rule), chart_(chart), tune_(read(tune_text(chart, rule, ""))) {
        only_.rules.push_back(rule);
        if (tune_) analysis_ = analysis::analyse(*tune_);
    }

    /// Cheap: whether the rule's chords stand there at all.
    bool fires() const {
        if (!tune_) return false;
        rules::MatchWish wish;
        wish.audience =
            rule_.audience == rules::Audience::soloist ? rules::Audience::soloist : rules::Audience::band;
        return !rules::match_rule(only_, 0, rules::make_chart(*tune_, analysis_), wish).empty();
    }
    /// What the engine would write: the cheapest that it allows, else the first that it refuses.
    std::optional<reharm::Option> option() const {
        reharm::Wish wish;
        wish.depth = 1;
        const auto bars = std::count(chart_.changes.begin(), chart_.changes.end(), '|') + 1;
        const auto address = tune::parse_address(fmt::format("A:1-{}", bars));
        auto found = reharm::options(*tune_, analysis_, only_, *address, wish);
        if (!found.value) return std::nullopt;
        for (auto& option : *found.value) {
            const auto by_rule = [](const reharm::Refusal& refusal) {
                return refusal.kind == reharm::Refusal::Kind::rule;
            };
            const auto& refusals = option.verdict.refusals;
            if (std::none_of(refusals.begin(), refusals.end(), by_rule)) return std::move(option);
        }
        return std::nullopt;
    }
    report::RuleExample refused(const reharm::Option& option) const {
        const auto row = report::option_table({option}).front();
        report::RuleExample example{
            theory::to_string(chart_.home), chart_.from_rule, for_soloist(), {}, {}, row.refusals};
        example.change.place = row.place;
        example.change.old_changes = row.old_changes;
        example.change.new_changes = row.new_changes;
        example.change.rule = row.title;
        example.change.new_motion = row.arrival;
        example.change.reason = row.reason;
        example.change.melody = row.melody;
        example.change.outside = row.outside;
        return example;
    }
    /// The version of the tune in which this change, and no other, is made.
    std::optional<report::RuleExample> made(const reharm::Option& option) const {
        const auto text =
            tune_text(chart_, rule_,
                      fmt::format("  at most {} changes in the tune\n  take {} at {}\n",
                                  option.old_chords.size(), rule_.name, text::to_string(option.place)));
        const auto tune = read(text);
        if (!tune) return std::nullopt;
        reharm::Wish wish;
        wish.depth = 1;
        const auto choices = reharm::reharmonise(*tune, analysis::analyse(*tune), only_, wish);
        if (!choices.value || choices.value->versions.empty()) return std::nullopt;
        const auto& version = choices.value->versions.front();
        const auto rows = report::change_table(version);
        const auto reader = for_soloist() ? report::Reader::soloist : report::Reader::band;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (version.changes[i].rule != rule_.name) continue;
            return report::RuleExample{theory::to_string(chart_.home),
                                       chart_.from_rule,
                                       for_soloist(),
                                       report::side_by_side(*tune, version.tune, reader),
                                       rows[i],
                                       {}};
        }
        return std::nullopt;
    }

private:
    [[nodiscard]] bool for_soloist() const { return rule_.audience == rules::Audience::soloist; }

    const rules::Rule& rule_;
    const rules::ExampleChart& chart_;
    rules::RuleSet only_;
    std::optional<tune::Tune> tune_;
    analysis::Analysis analysis_;
};

}  // namespace

std::optional<report::RuleExample> rule_example(const rules::Rule& rule, theory::NoteName tonic,
                                                std::optional<theory::Mode> mode) {
    std::optional<report::RuleExample> best;
    rules::example_charts(rule, tonic, mode, [&](const rules::ExampleChart& chart) {
        const Trial trial(rule, chart);
        if (!trial.fires()) return false;
        const auto option = trial.option();
        if (!option) return false;
        if (!option->verdict.allowed()) {
            if (!best) best = trial.refused(*option);
            return false;
        }
        auto made = trial.made(*option);
        if (made) best = std::move(made);
        return best && best->refusals.empty();
    });
    return best;
}

Diagnostics refused_examples(const rules::RuleSet& rules) {
    text::Sink sink;
    for (const auto& rule : rules.rules) {
        if (rule.built_in || rule.example.empty()) continue;
        std::string against;
        const bool stands =
            rules::own_charts(rule, theory::NoteName{}, [&](const rules::ExampleChart& chart) {
                const Trial trial(rule, chart);
                if (!trial.fires()) return false;
                const auto option = trial.option();
                if (!option || option->verdict.allowed()) return option.has_value();
                if (against.empty()) against = option->verdict.refusals.front().sentence;
                return false;
            });
        if (stands || against.empty()) continue;
        sink.emit(text::Code::rules_idle_example, rule.example_span,
                  fmt::format("The rule {} fires on its own example, but may not be played there: {} Write "
                              "changes where it may, or leave the line out.",
                              rule.name, against));
    }
    return sink.take();
}

}  // namespace relead::pipeline
