#include "rules/match_context.h"

#include <algorithm>

namespace relead::rules {
namespace {

bool is_context(const Condition& condition) {
    return condition.kind == ConditionKind::after || condition.kind == ConditionKind::before;
}

/// One plain chord beside what was found can be asked for later; more is looked up in the chart.
bool can_stay_open(const Run& run, bool written) {
    return !written && run.size() == 1 && !run.front().optional && run.front().lengths.empty();
}

/// Of `a and b` each can be left open by itself, and of not (a or b) each: an `unless`, the exception.
bool stays_open(const Clause& clause, const std::vector<Condition>& all, const Condition& condition,
                bool exception) {
    const bool by_itself = exception ? all.size() == 1 : clause.any_of.size() == 1;
    return by_itself && is_context(condition) && can_stay_open(condition.run, condition.written);
}

/// The same roots, whatever stands on them.
Run of_any_kind(Run run) {
    for (auto& element : run) {
        for (auto& pattern : element.alternatives) {
            if (pattern.degree) pattern.kinds = any_chord;
        }
    }
    return run;
}

}  // namespace

bool asks_about_new_chords(const Rule& rule) {
    const auto asks = [](const Clause& clause) {
        return std::any_of(clause.any_of.begin(), clause.any_of.end(), [](const auto& all) {
            return std::any_of(all.begin(), all.end(),
                               [](const Condition& one) { return one.degrees_of_new.has_value(); });
        });
    };
    return std::any_of(rule.when.begin(), rule.when.end(), asks) ||
           std::any_of(rule.unless.begin(), rule.unless.end(), asks);
}

bool goes_on_as(const theory::Chord& a, const theory::Chord& b) {
    return a.is_none() == b.is_none() && theory::pitch_class(a.root) == theory::pitch_class(b.root) &&
           a.quality == b.quality && a.extra == b.extra;
}

bool matches(const ChordPattern& pattern, const Heard& heard, theory::NoteName tonic) {
    if ((heard.kind & pattern.kinds) == 0) return false;
    if (!pattern.degree) return true;
    return theory::pitch_class(heard.root) == theory::pitch_class(theory::note_at(tonic, *pattern.degree));
}

bool matches(const Element& element, const Heard& heard, theory::NoteName tonic) {
    return std::any_of(element.alternatives.begin(), element.alternatives.end(),
                       [&](const ChordPattern& pattern) { return matches(pattern, heard, tonic); });
}

bool within(const LengthBound& bound, const Chart& chart, int begin, int end) {
    if (bound.unit == LengthBound::Unit::seconds) {
        constexpr double rounding = 1e-9;
        const double amount = bound.amount.to_double();
        double seconds = 0;
        for (int i = begin; i < end; ++i) seconds += chart.at(i).seconds;
        return bound.at_least ? seconds >= amount - rounding : seconds <= amount + rounding;
    }
    Fraction length = 0;
    for (int i = begin; i < end; ++i) {
        const auto& spot = chart.at(i);
        const int unit = bound.unit == LengthBound::Unit::bars ? std::max(1, spot.beats_in_bar) : 1;
        length += spot.beats() / Fraction(unit);
    }
    return bound.at_least ? length >= bound.amount : length <= bound.amount;
}

bool within(const FormPlace& place, const Chart& chart, int begin, int end, Playings playings) {
    constexpr int phrase = 4;
    const bool any = playings == Playings::any;
    for (int i = begin; i < end; ++i) {
        const auto& spot = chart.at(i);
        const auto& position = place.of == FormPlace::Of::chorus ? spot.in_chorus : spot.in_section;
        if (position.from_start < 0) return false;
        const int in_phrase = position.from_start % phrase;
        const int bars = place.of == FormPlace::Of::phrase ? (place.last ? phrase - 1 - in_phrase : in_phrase)
                         : place.last ? (any ? position.least_from_end : position.from_end)
                                      : (any ? position.least_from_start : position.from_start);
        if (bars >= place.bars) return false;
    }
    return true;
}

bool Examiner::run_holds(const Run& run, std::size_t done, const Chart& chart,
                         const std::vector<int>& neighbours, const Found& found, bool forward, Mode mode,
                         int depth) const {
    if (done == run.size()) return true;
    constexpr int longest_look = 16;
    if (neighbours.empty() || depth > longest_look) return false;
    const auto& element = run[forward ? done : run.size() - 1 - done];
    const auto fits = [&](int i) {
        const auto& spot = chart.at(i);
        const auto& onward = forward ? spot.next : spot.previous;
        if (matches(element, spot.heard, found.tonic)) {
            if (run_holds(run, done + 1, chart, onward, found, forward, mode, depth + 1)) return true;
            // A chord that goes on over the bar line counts once.
            const bool goes_on = !onward.empty() && std::all_of(onward.begin(), onward.end(), [&](int j) {
                return goes_on_as(spot.chord, chart.at(j).chord);
            });
            if (goes_on && run_holds(run, done, chart, onward, found, forward, mode, depth + 1)) return true;
        }
        return element.optional && run_holds(run, done + 1, chart, {i}, found, forward, mode, depth + 1);
    };
    return mode == Mode::all ? std::all_of(neighbours.begin(), neighbours.end(), fits)
                             : std::any_of(neighbours.begin(), neighbours.end(), fits);
}

bool Examiner::context_holds(const Run& run, bool written, const Found& found, bool forward,
                             Mode mode) const {
    const auto& edge = chart_.at(forward ? found.end - 1 : found.begin);
    if (!written || !chart_.written)
        return run_holds(run, 0, chart_, forward ? edge.next : edge.previous, found, forward, mode, 0);
    const auto& there = chart_.written->at(forward ? edge.written_last : edge.written_first);
    return run_holds(run, 0, *chart_.written, forward ? there.next : there.previous, found, forward, mode, 0);
}

bool Examiner::clause_holds(const Clause& clause, bool exception, bool open_contexts,
                            const Found& found) const {
    return std::any_of(clause.any_of.begin(), clause.any_of.end(), [&](const std::vector<Condition>& all) {
        return std::all_of(all.begin(), all.end(), [&](const Condition& condition) {
            // What is left open speaks neither for an exception nor against a condition.
            if (open_contexts && stays_open(clause, all, condition, exception)) return !exception;
            return holds(condition, found, exception ? Mode::any : Mode::all);
        });
    });
}

bool Need::met_by(const theory::Chord& chord) const {
    return matches(element, heard_as(chord), tonic) != negated;
}

bool Examiner::contexts_hold(const Found& found, bool open, std::vector<Objection>* against) const {
    bool all_hold = true;
    for (const bool forward : {true, false}) {
        for (const auto& context : forward ? rule_.before : rule_.after) {
            if (open && can_stay_open(context.run, context.written)) continue;
            const auto stands = [&](const Run& run) {
                return context_holds(run, context.written, found, forward, Mode::all);
            };
            if (stands(context.run)) continue;
            if (!against) return false;
            const bool near = stands(of_any_kind(context.run)) ||
                              stands({forward ? context.run.front() : context.run.back()});
            against->push_back({near ? Objection::Kind::near_context : Objection::Kind::context,
                                context_sentence(context, found, forward)});
            all_hold = false;
        }
    }
    return all_hold;
}

bool Examiner::fits(const Found& found, bool open_contexts, std::vector<Objection>* against) const {
    bool all_hold = contexts_hold(found, open_contexts, against);
    if (!all_hold && !against) return false;
    for (const auto& clause : rule_.when) {
        if (clause_holds(clause, false, open_contexts, found)) continue;
        if (!against) return false;
        against->push_back({Objection::Kind::condition, clause_sentence(clause, found)});
        all_hold = false;
    }
    for (const auto& clause : rule_.unless) {
        if (!clause_holds(clause, true, open_contexts, found)) continue;
        if (!against) return false;
        against->push_back({Objection::Kind::exception, exception_sentence(clause, found)});
        all_hold = false;
    }
    return all_hold;
}

void Examiner::leave_open(theory::NoteName tonic, Candidate& candidate) const {
    const auto need = [&](const Run& run, bool forward, bool negated) {
        (forward ? candidate.right : candidate.left).push_back({run.front(), tonic, negated});
    };
    const auto keep = [&](const Run& run, bool forward) {
        auto& keeps = forward ? candidate.keeps_right : candidate.keeps_left;
        keeps = std::max(keeps, static_cast<int>(run.size()));
    };
    for (const bool forward : {true, false}) {
        for (const auto& context : forward ? rule_.before : rule_.after) {
            if (context.written) continue;  // the written chords never change
            if (can_stay_open(context.run, false)) {
                need(context.run, forward, false);
            } else {
                keep(context.run, forward);
            }
        }
    }
    for (const bool exception : {false, true}) {
        for (const auto& clause : exception ? rule_.unless : rule_.when) {
            for (const auto& all : clause.any_of) {
                for (const auto& condition : all) {
                    if (!is_context(condition) || condition.written) continue;
                    const bool forward = condition.kind == ConditionKind::before;
                    if (stays_open(clause, all, condition, exception)) {
                        need(condition.run, forward, condition.negated != exception);
                    } else {
                        keep(condition.run, forward);
                    }
                }
            }
        }
    }
}

}  // namespace relead::rules
