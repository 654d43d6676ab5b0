#include "rules/lint.h"

#include <algorithm>

#include "analysis/analysis.h"
#include "rules/contradiction.h"
#include "rules/example_chart.h"
#include "rules/made_chart.h"
#include "rules/match.h"
#include "text/diagnose.h"
#include "text/source.h"
#include "tune/lower.h"

namespace relead::rules {
namespace {

bool same_bound(const LengthBound& a, const LengthBound& b) {
    return a.at_least == b.at_least && a.unit == b.unit && a.amount == b.amount;
}

/// Every chord that `narrow` takes is one that `wide` takes.
bool covers(const Element& wide, const Element& narrow) {
    const bool chords =
        std::all_of(narrow.alternatives.begin(), narrow.alternatives.end(), [&](const ChordPattern& one) {
            return std::any_of(
                wide.alternatives.begin(), wide.alternatives.end(), [&](const ChordPattern& other) {
                    return (!other.degree || other.degree == one.degree) && (one.kinds & ~other.kinds) == 0;
                });
        });
    const bool lengths = std::all_of(wide.lengths.begin(), wide.lengths.end(), [&](const LengthBound& bound) {
        return std::any_of(narrow.lengths.begin(), narrow.lengths.end(),
                           [&](const LengthBound& own) { return same_bound(bound, own); });
    });
    return chords && lengths && (wide.optional || !narrow.optional);
}

bool covers(const Run& wide, const Run& narrow) {
    return wide.size() == narrow.size() &&
           std::equal(wide.begin(), wide.end(), narrow.begin(),
                      [](const Element& a, const Element& b) { return covers(a, b); });
}

bool covers(const Find& wide, const Find& narrow) {
    if (wide.region.has_value() != narrow.region.has_value()) return false;
    if (wide.region && (wide.region->last != narrow.region->last ||
                        wide.region->bars != narrow.region->bars || wide.region->of != narrow.region->of))
        return false;
    return covers(wide.run, narrow.run);
}

/// Whatever `wide` asks of the chords around, `narrow` asks too.
bool covers(const std::vector<Context>& wide, const std::vector<Context>& narrow) {
    return std::all_of(wide.begin(), wide.end(), [&](const Context& context) {
        return std::any_of(narrow.begin(), narrow.end(), [&](const Context& own) {
            return own.written == context.written && covers(context.run, own.run);
        });
    });
}

/// Conditions by their words: a reader of rules compares them so.
bool covers(const std::vector<Clause>& wide, const std::vector<Clause>& narrow) {
    return std::all_of(wide.begin(), wide.end(), [&](const Clause& clause) {
        return std::any_of(narrow.begin(), narrow.end(),
                           [&](const Clause& own) { return own.text == clause.text; });
    });
}

bool same_colours(const std::vector<Colour>& a, const std::vector<Colour>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Colour& x, const Colour& y) {
        return x.degree == y.degree && x.before == y.before;
    });
}

bool same_share(const Share& a, const Share& b) {
    return a.kind == b.kind && a.amount == b.amount && a.found == b.found;
}

bool same_chord(const NewChordSpec& a, const NewChordSpec& b) {
    return a.base == b.base && a.degree == b.degree && a.quality == b.quality && a.extra == b.extra &&
           a.found == b.found && a.bass_of_chord == b.bass_of_chord && a.bass_of_tonic == b.bass_of_tonic &&
           same_colours(a.colours, b.colours) && same_share(a.share, b.share);
}

bool writes_alike(const Rule& a, const Rule& b) {
    return std::equal(a.write.begin(), a.write.end(), b.write.begin(), b.write.end(), same_chord);
}

/// Every new chord is the found one, plain and in its own place.
bool changes_nothing(const Rule& rule) {
    if (rule.write.size() != rule.find.run.size()) return false;
    for (std::size_t i = 0; i < rule.write.size(); ++i) {
        const auto& spec = rule.write[i];
        if (spec.base != NewChordSpec::Base::found || spec.found != static_cast<int>(i)) return false;
        if (spec.bass_of_chord || spec.bass_of_tonic || !spec.extra.empty() || !spec.colours.empty())
            return false;
        if (spec.share.kind != Share::Kind::even) return false;
    }
    return true;
}

/// What made charts cannot hold: written bass figures, hits, tempos.
bool can_be_tried(const Rule& rule) {
    for (const auto& clause : rule.when) {
        for (const auto& each : clause.any_of) {
            for (const auto& one : each) {
                if (one.kind == ConditionKind::written) return false;
                if (one.length && one.length->unit == LengthBound::Unit::seconds) return false;
            }
        }
    }
    return std::none_of(rule.find.run.begin(), rule.find.run.end(), [](const Element& element) {
        return std::any_of(element.lengths.begin(), element.lengths.end(),
                           [](const LengthBound& bound) { return bound.unit == LengthBound::Unit::seconds; });
    });
}

/// Tries a rule on charts until it fires.
struct Trial {
    RuleSet only;
    MatchWish wish;
    bool fires = false;
    int charts = 0;

    explicit Trial(const Rule& rule) {
        only.rules.push_back(rule);
        wish.audience = rule.audience == Audience::soloist ? Audience::soloist : Audience::band;
    }
    void on_all_charts() {
        example_charts(only.rules.front(), theory::NoteName{0}, std::nullopt, until_it_fires());
    }
    void on_its_own_example() { own_charts(only.rules.front(), theory::NoteName{0}, until_it_fires()); }
    ChartReader until_it_fires() {
        return [this](const ExampleChart& chart) {
            look_at(chart);
            return fires;
        };
    }
    void look_at(const ExampleChart& chart) {
        auto bytes = "tune \"Example\"\nkey " + theory::to_string(chart.home) +
                     "\nmeter 4/4\ntempo 120 swing\nform A\n\nsection A\nchanges | " + chart.changes + " |\n";
        if (!chart.melody.empty()) bytes += "melody | " + chart.melody + " |\n";
        const auto tune = tune::read_tune(text::Source("example", bytes));
        if (!tune.clean()) return;
        ++charts;
        fires = !match_rule(only, 0, make_chart(*tune.value, analysis::analyse(*tune.value)), wish).empty();
    }
};

/// True when the rule does something somewhere.
bool lint_work(const Rule& rule, text::Sink& sink) {
    if (const auto sentence = contradiction(rule); !sentence.empty()) {
        sink.emit(text::Code::rules_never_fires, rule.span,
                  "The rule " + rule.name + " can never fire. " + sentence);
        return false;
    }
    if (changes_nothing(rule)) {
        sink.emit(text::Code::rules_changes_nothing, rule.write_span,
                  "The rule " + rule.name + " writes the chords that it finds: nothing changes.");
        return false;
    }
    if (!can_be_tried(rule)) return true;
    Trial trial(rule);
    trial.on_all_charts();
    if (trial.fires) return true;
    sink.emit(text::Code::rules_never_fires, rule.span,
              "The rule " + rule.name + " fires on none of " + std::to_string(trial.charts) +
                  " charts made to fit it: perhaps two of its lines exclude each other. An `example` line "
                  "with changes where it should fire says what is meant.");
    return false;
}

/// An example holds no melody: the rule is tried on it without what it asks of one.
Rule without_melody(Rule rule) {
    std::erase_if(rule.when, [](const Clause& clause) {
        return std::any_of(clause.any_of.begin(), clause.any_of.end(), [](const auto& all) {
            return std::any_of(all.begin(), all.end(), is_about_melody);
        });
    });
    return rule;
}

void lint_example(const Rule& rule, text::Sink& sink) {
    if (rule.example.empty() || !can_be_tried(rule)) return;
    Trial trial(without_melody(rule));
    trial.on_its_own_example();
    if (trial.fires) return;
    sink.emit(text::Code::rules_idle_example, rule.example_span,
              "The rule " + rule.name +
                  " does not fire on its own example, so that a chart made to fit it is shown instead. "
                  "Write changes where it fires, or leave the line out.");
}

/// Compares a rule with the others; of two that say the same, the later one says nothing new.
void lint_company(const RuleSet& rules, std::size_t index, text::Sink& sink) {
    const auto& rule = rules.rules[index];
    for (std::size_t i = 0; i < rules.rules.size(); ++i) {
        const auto& other = rules.rules[i];
        if (i == index || !covers(other, rule)) continue;
        if (covers(rule, other)) {
            if (i > index && !other.built_in) continue;
            sink.emit(text::Code::rules_repeats, rule.span,
                      "The rule " + rule.name + " does what " + other.name + " does already.");
        } else {
            sink.emit(text::Code::rules_narrower, rule.span,
                      "Wherever the rule " + rule.name + " fires, " + other.name +
                          " writes the same chords already.");
        }
        return;
    }
}

}  // namespace

bool covers(const Rule& wide, const Rule& narrow) {
    const bool audience = wide.audience == Audience::everybody || wide.audience == narrow.audience;
    const bool tonic = wide.tonic == narrow.tonic || wide.tonic == TonicBinding::any;
    const bool mode = !wide.tonic_mode || wide.tonic_mode == narrow.tonic_mode;
    return audience && tonic && mode && writes_alike(wide, narrow) && covers(wide.find, narrow.find) &&
           covers(wide.before, narrow.before) && covers(wide.after, narrow.after) &&
           covers(wide.when, narrow.when) && covers(wide.unless, narrow.unless);
}

Diagnostics lint_rules(const RuleSet& rules, LintScope scope, const Limits& limits) {
    text::Sink sink(limits);
    for (std::size_t i = 0; i < rules.rules.size(); ++i) {
        if (scope == LintScope::own && rules.rules[i].built_in) continue;
        if (!lint_work(rules.rules[i], sink)) continue;
        lint_example(rules.rules[i], sink);
        lint_company(rules, i, sink);
    }
    return sink.take();
}

}  // namespace relead::rules
