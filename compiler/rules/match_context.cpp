#include "rules/match_context.h"

#include <algorithm>

#include "rules/sounding_melody.h"

namespace relead::rules {
namespace {

int pitch_class_of(theory::NoteName tonic, theory::Degree degree) {
    return theory::pitch_class(tonic + theory::interval_of_degree(degree.number, degree.alteration));
}

bool asks_context(const Clause& clause) {
    for (const auto& all : clause.any_of) {
        for (const auto& condition : all) {
            if (condition.kind == ConditionKind::after || condition.kind == ConditionKind::before)
                return true;
        }
    }
    return false;
}

}  // namespace

Heard heard_as(const theory::Chord& chord) {
    constexpr int whole_step = 2, fifth = 7;
    const auto type = theory::chord_class(chord);
    const int above =
        chord.bass ? (theory::pitch_class(*chord.bass) - theory::pitch_class(chord.root) + 12) % 12 : 0;
    const bool four_over_dominant = above == whole_step && type == theory::ChordClass::major;
    const bool six_four =
        above == fifth && (type == theory::ChordClass::major || type == theory::ChordClass::minor);
    if (four_over_dominant || six_four || theory::is_two_over_dominant(chord))
        return {*chord.bass, suspended};
    return {chord.root, kind_of(chord)};
}

bool goes_on_as(const theory::Chord& a, const theory::Chord& b) {
    return a.is_none() == b.is_none() && theory::pitch_class(a.root) == theory::pitch_class(b.root) &&
           a.quality == b.quality && a.extra == b.extra;
}

bool matches(const ChordPattern& pattern, const theory::Chord& chord, theory::NoteName tonic) {
    const auto heard = heard_as(chord);
    if ((heard.kind & pattern.kinds) == 0) return false;
    if (!pattern.degree) return true;
    return theory::pitch_class(heard.root) == theory::pitch_class(theory::note_at(tonic, *pattern.degree));
}

bool matches(const Element& element, const theory::Chord& chord, theory::NoteName tonic) {
    return std::any_of(element.alternatives.begin(), element.alternatives.end(),
                       [&](const ChordPattern& pattern) { return matches(pattern, chord, tonic); });
}

bool within(const LengthBound& bound, const Chart& chart, int begin, int end) {
    Beats beats = 0;
    Fraction bars = 0;
    double seconds = 0;
    for (int i = begin; i < end; ++i) {
        const auto& spot = chart.at(i);
        beats += spot.beats();
        bars += spot.beats() / Fraction(std::max(1, spot.beats_in_bar));
        seconds += spot.seconds;
    }
    switch (bound.unit) {
        case LengthBound::Unit::beats:
            return bound.at_least ? beats >= bound.amount : beats <= bound.amount;
        case LengthBound::Unit::bars:
            return bound.at_least ? bars >= bound.amount : bars <= bound.amount;
        case LengthBound::Unit::seconds:
            break;
    }
    constexpr double rounding = 1e-9;
    const double amount = bound.amount.to_double();
    return bound.at_least ? seconds >= amount - rounding : seconds <= amount + rounding;
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
        if (matches(element, spot.chord, found.tonic)) {
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
        return spot->chord.bass && heard_as(spot->chord).root == spot->chord.root;
    const auto degrees = theory::degrees(spot->chord);
    return std::any_of(degrees.begin(), degrees.end(), [](theory::Degree degree) {
        return (degree.number == 5 || degree.number == 9 || degree.number == 13) && degree.alteration != 0;
    });
}

bool Examiner::melody_holds(const Condition& condition, const Found& found, SoundingNote* note) const {
    const auto& first = chart_.at(found.begin);
    const auto& last = chart_.at(found.end - 1);
    auto from = first.start;
    auto to = last.end();
    auto root = found.tonic;
    if (condition.degrees_of) {
        const auto [begin, end] = found.ranges[static_cast<std::size_t>(*condition.degrees_of)];
        if (begin == end) return false;
        root = chart_.at(begin).chord.root;
        from = chart_.at(begin).start;
        to = chart_.at(end - 1).end();
    }
    const auto melody = chart_.melodies->between(first.ref.section, from, to);
    const auto held = [&](const SoundingNote& sounding) {
        return sounding.within(from, to) >= first.beat_length;
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
            if ((word == "bass" && spot.bass_written) || (word == "hits" && spot.hits_written) ||
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

bool Examiner::clause_holds(const Clause& clause, const Found& found, Mode mode) const {
    return std::any_of(clause.any_of.begin(), clause.any_of.end(), [&](const std::vector<Condition>& all) {
        return std::all_of(all.begin(), all.end(), [&](const Condition& c) { return holds(c, found, mode); });
    });
}

bool Need::met_by(const theory::Chord& chord) const {
    return matches(element, chord, tonic) != negated;
}

bool Examiner::leave_open(const Run& run, bool written, bool forward, bool negated, const Found& found,
                          Candidate& candidate) {
    if (written) return false;  // the written chords never change
    auto& keeps = forward ? candidate.keeps_right : candidate.keeps_left;
    if (run.size() != 1 || run.front().optional || !run.front().lengths.empty()) {
        keeps = std::max(keeps, static_cast<int>(run.size()));
        return false;
    }
    (forward ? candidate.right : candidate.left).push_back({run.front(), found.tonic, negated});
    return true;
}

void Examiner::ask_contexts(const Found& found, bool open, Candidate& candidate,
                            std::vector<Objection>& against) const {
    for (const bool forward : {true, false}) {
        for (const auto& context : forward ? rule_.before : rule_.after) {
            if (open && leave_open(context.run, context.written, forward, false, found, candidate)) continue;
            if (context_holds(context.run, context.written, found, forward, Mode::all)) continue;
            against.push_back({Objection::Kind::context, context_sentence(context, found, forward)});
        }
    }
}

Clause Examiner::open_clause(const Clause& clause, bool exception, const Found& found,
                             Candidate& candidate) const {
    const auto is_context = [](const Condition& c) {
        return c.kind == ConditionKind::after || c.kind == ConditionKind::before;
    };
    const auto take = [&](const Condition& c) {
        return is_context(c) && leave_open(c.run, c.written, c.kind == ConditionKind::before,
                                           c.negated != exception, found, candidate);
    };
    Clause rest = clause;
    if (exception) {
        // Not (a or b): each alternative of one condition can be left open by itself.
        std::erase_if(rest.any_of, [&](const std::vector<Condition>& all) {
            return all.size() == 1 && take(all.front());
        });
    } else if (rest.any_of.size() == 1) {
        std::erase_if(rest.any_of.front(), take);
    }
    for (const auto& all : rest.any_of) {
        for (const auto& c : all) {
            if (!is_context(c) || c.written) continue;
            auto& keeps = c.kind == ConditionKind::before ? candidate.keeps_right : candidate.keeps_left;
            keeps = std::max(keeps, static_cast<int>(c.run.size()));
        }
    }
    return rest;
}

std::vector<Objection> Examiner::objections(const Found& found, bool open_contexts,
                                            Candidate& candidate) const {
    std::vector<Objection> against;
    ask_contexts(found, open_contexts, candidate, against);
    for (const auto& clause : rule_.when) {
        const bool holds_here =
            open_contexts && asks_context(clause)
                ? clause_holds(open_clause(clause, false, found, candidate), found, Mode::all)
                : clause_holds(clause, found, Mode::all);
        if (holds_here) {
            candidate.why.held.push_back(clause.text);
        } else {
            against.push_back({Objection::Kind::condition, clause_sentence(clause, found)});
        }
    }
    for (const auto& clause : rule_.unless) {
        const bool holds_here =
            open_contexts && asks_context(clause)
                ? clause_holds(open_clause(clause, true, found, candidate), found, Mode::any)
                : clause_holds(clause, found, Mode::any);
        if (holds_here) against.push_back({Objection::Kind::exception, exception_sentence(clause, found)});
    }
    if (!rule_.before.empty()) candidate.why.before = chart_.at(found.end - 1).next;
    if (!rule_.after.empty()) candidate.why.after = chart_.at(found.begin).previous;
    return against;
}

}  // namespace relead::rules
