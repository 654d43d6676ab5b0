#include "rules/match_context.h"

#include <algorithm>

#include "rules/sounding_melody.h"

namespace relead::rules {
namespace {

int pitch_class_of(theory::NoteName tonic, theory::Degree degree) {
    return theory::pitch_class(tonic + theory::interval_of_degree(degree.number, degree.alteration));
}

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

bool within(const FormPlace& place, const Chart& chart, int begin, int end) {
    constexpr int phrase = 4;
    for (int i = begin; i < end; ++i) {
        const auto& spot = chart.at(i);
        const auto& position = place.of == FormPlace::Of::chorus ? spot.in_chorus : spot.in_section;
        if (position.from_start < 0) return false;
        const int in_phrase = position.from_start % phrase;
        const int bars = place.of == FormPlace::Of::phrase ? (place.last ? phrase - 1 - in_phrase : in_phrase)
                         : place.last                      ? position.from_end
                                                           : position.from_start;
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

const Spot* Examiner::subject(const Condition& condition, const Found& found) const {
    if (!condition.subject) return &chart_.at(found.begin);
    const auto index = static_cast<std::size_t>(*condition.subject);
    if (index >= found.ranges.size()) return nullptr;
    const auto [begin, end] = found.ranges[index];
    return end > begin ? &chart_.at(end - 1) : nullptr;
}

bool Examiner::analysis_holds(const Condition& condition, const Found& found) const {
    const auto* spot = subject(condition, found);
    if (!spot) return false;
    const auto& fact = spot->fact;
    const auto* target = spot->leads_to ? &*spot->leads_to : nullptr;
    switch (condition.kind) {
        case ConditionKind::prepares_home:
        case ConditionKind::prepares_degree: {
            const int goal = condition.kind == ConditionKind::prepares_home
                                 ? theory::pitch_class(chart_.home.tonic)
                                 : pitch_class_of(found.tonic, condition.degrees.front());
            return target && theory::pitch_class(target->root) == goal;
        }
        case ConditionKind::prepares_kind:
            return target && is_a(*target, condition.kinds);
        case ConditionKind::has_function: {
            const auto& word = condition.words.front();
            if (word == "related ii") return fact.related_ii;
            if (word == "blues tonic") return fact.blues_tonic;
            return analysis::to_string(fact.function) == word;
        }
        case ConditionKind::in_blues:
            return chart_.home.mode == theory::Mode::blues;
        case ConditionKind::in_modal:
            return fact.in_modal_stretch;
        case ConditionKind::tonic_is_home:
            return theory::pitch_class(found.tonic) == theory::pitch_class(chart_.home.tonic);
        default:
            break;
    }
    const auto& key = condition.kind == ConditionKind::home_key ? chart_.home : fact.local_key;
    return std::any_of(condition.words.begin(), condition.words.end(), [&](const std::string& word) {
        if (word == "blues") return key.mode == theory::Mode::blues;
        if (word == "modal") return theory::is_modal(key);
        if (word == "minor") return theory::is_minor_like(key);
        if (word != "major") return key.mode == theory::parse_mode(word);
        return !theory::is_minor_like(key) && key.mode != theory::Mode::blues;
    });
}

bool Examiner::chord_holds(const Condition& condition, const Found& found) const {
    const auto* spot = subject(condition, found);
    if (!spot) return false;
    if (condition.kind == ConditionKind::is_kind) return is_a(spot->chord, condition.kinds);
    if (condition.kind == ConditionKind::chord_lasts) {
        const auto [begin, end] = found.ranges[static_cast<std::size_t>(*condition.subject)];
        return within(*condition.length, chart_, begin, end);
    }
    if (condition.kind == ConditionKind::is_diatonic) {
        const auto tones = theory::tones(spot->chord);
        return std::all_of(tones.begin(), tones.end(), [&](theory::NoteName tone) {
            return theory::is_diatonic(tone, spot->fact.local_key);
        });
    }
    if (condition.kind == ConditionKind::is_inverted)
        return spot->chord.bass && spot->heard.root == spot->chord.root;
    const bool ninth_counts = condition.kind == ConditionKind::is_altered;
    const auto degrees = theory::degrees(spot->chord);
    return std::any_of(degrees.begin(), degrees.end(), [&](theory::Degree degree) {
        const bool counts = degree.number == 5 || degree.number == 13 || (ninth_counts && degree.number == 9);
        return counts && degree.alteration != 0;
    });
}

std::optional<Examiner::Stretch> Examiner::stretch_of(const Condition& condition, const Found& found) const {
    const auto start = chart_.at(found.begin).start;
    if (condition.degrees_of_new) {
        const auto index = static_cast<std::size_t>(*condition.degrees_of_new);
        if (index >= found.new_chords.size()) return std::nullopt;
        const auto& chord = found.new_chords[index];
        return Stretch{chord.chord.root, start + chord.at, start + chord.at + chord.length};
    }
    if (!condition.degrees_of) return Stretch{found.tonic, start, chart_.at(found.end - 1).end()};
    const auto [begin, end] = found.ranges[static_cast<std::size_t>(*condition.degrees_of)];
    if (begin == end) return std::nullopt;
    return Stretch{chart_.at(begin).chord.root, chart_.at(begin).start, chart_.at(end - 1).end()};
}

bool Examiner::melody_holds(const Condition& condition, const Found& found, SoundingNote* note) const {
    const auto& first = chart_.at(found.begin);
    const auto stretch = stretch_of(condition, found);
    if (!stretch) return false;
    const auto root = stretch->root;
    const auto from = stretch->from, to = stretch->to;
    const auto melody = chart_.melodies->between(first.ref.section, from, to);
    const auto held = [&](const SoundingNote& sounding) {
        const auto index = static_cast<std::size_t>(&sounding - melody.notes.data());
        return sounding_within(melody.notes, index, from, to) >= first.beat_length;
    };
    const auto on_degree = [&](const SoundingNote& sounding_note) {
        const int sounding = theory::pitch_class(theory::name_of(sounding_note.pitch));
        return std::any_of(condition.degrees.begin(), condition.degrees.end(),
                           [&](theory::Degree degree) { return pitch_class_of(root, degree) == sounding; });
    };
    switch (condition.kind) {
        case ConditionKind::melody_known:
            return melody.all_known;
        case ConditionKind::melody_rests:
            return melody.all_known && melody.notes.empty();
        case ConditionKind::melody_moves:
            return melody.all_known && !melody.notes.empty() &&
                   std::none_of(melody.notes.begin(), melody.notes.end(), held);
        default:
            break;
    }
    const bool any_length = condition.kind == ConditionKind::melody_touches;
    const auto deciding = std::find_if(
        melody.notes.begin(), melody.notes.end(),
        [&](const SoundingNote& sounding) { return (any_length || held(sounding)) && on_degree(sounding); });
    if (deciding == melody.notes.end()) return false;
    if (note) *note = *deciding;
    return true;
}

bool Examiner::written_holds(const Condition& condition, const Found& found) const {
    for (int i = found.begin; i < found.end; ++i) {
        const auto& spot = chart_.at(i);
        for (const auto& word : condition.words) {
            if ((word == "bass" && spot.bass_written) || (word == "hits" && spot.tutti != Tutti::none) ||
                (word == "pedal" && spot.fact.over_pedal))
                return true;
        }
    }
    return false;
}

bool Examiner::starts_on(const MetricPlace& metric, const Spot& spot) const {
    const auto beat = spot.beat();
    const bool odd = beat.is_whole() && beat.numerator() % 2 == 1;
    // Beats 1 and 3 of four, 1 of three (and of anything odd), 1 of two.
    const bool strong = beat == 1 || (spot.beats_in_bar % 4 == 0 && odd);
    switch (metric.kind) {
        case MetricPlace::Kind::beat:
            return beat == metric.beat;
        case MetricPlace::Kind::downbeat:
            return beat == 1;
        case MetricPlace::Kind::strong:
            return strong;
        case MetricPlace::Kind::weak:
            break;
    }
    return !strong;
}

bool Examiner::holds(const Condition& condition, const Found& found, Mode mode) const {
    using K = ConditionKind;
    const auto answer = [&] {
        switch (condition.kind) {
            case K::after:
            case K::before:
                return context_holds(condition.run, condition.written, found, condition.kind == K::before,
                                     condition.negated ? Mode::any : mode);
            case K::lasts:
                return within(*condition.length, chart_, found.begin, found.end);
            case K::in_place:
                return within(*condition.place, chart_, found.begin, found.end);
            case K::starts_on:
                return starts_on(condition.metric, chart_.at(found.begin));
            case K::written:
                return written_holds(condition, found);
            case K::chord_lasts:
            case K::is_kind:
            case K::is_diatonic:
            case K::is_altered:
            case K::alters_fifth:
            case K::is_inverted:
                return chord_holds(condition, found);
            case K::melody_known:
            case K::melody_rests:
            case K::melody_moves:
            case K::melody_holds:
            case K::melody_touches:
                return melody_holds(condition, found);
            default:
                return analysis_holds(condition, found);
        }
    }();
    return answer != condition.negated;
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
