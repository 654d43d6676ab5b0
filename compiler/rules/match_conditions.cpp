// What single conditions of a rule ask: of the analysis, of the chords found, of the melody and of what is
// written.
#include <algorithm>

#include "rules/match_context.h"
#include "rules/sounding_melody.h"

namespace relead::rules {
namespace {

int pitch_class_of(theory::NoteName tonic, theory::Degree degree) {
    return theory::pitch_class(tonic + theory::interval_of_degree(degree.number, degree.alteration));
}

}  // namespace

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
                return within(*condition.place, chart_, found.begin, found.end,
                              condition.negated || mode == Mode::any ? Playings::any : Playings::every);
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

}  // namespace relead::rules
