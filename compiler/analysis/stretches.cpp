#include "analysis/stretches.h"

#include <algorithm>

namespace relead::analysis {
namespace {

constexpr double static_bars = 8;  // one chord, or two in turn, for so long (common practice, no source)
/// One chord for so long is a level of its own in a tune in a mode, and in any tune where its neighbour is
/// the same sound moved (common practice, no source).
constexpr double level_bars = 4;

void mark(std::vector<bool>& flags, int first, int end) {
    for (int i = first; i < end; ++i) flags[static_cast<std::size_t>(i)] = true;
}

double bars_between(const ChorusReading& r, int first, int end) {
    double bars = 0;
    for (int i = first; i < end; ++i) bars += r.at(i).length;
    return bars;
}

bool may_be_static(const ChorusReading& r, int i) {
    const auto sound = r.at(i).sound;
    if (sound == Sound::dominant) return !r.blues;
    return sound != Sound::diminished && sound != Sound::half_diminished;
}

/// One chord for eight bars or more; the tonic of a tune that moves elsewhere is at rest, not modal.
void mark_one_chord(ChorusReading& r) {
    const double least = r.mode ? level_bars : static_bars;
    for (int i = 0; i < r.size();) {
        int end = i + 1;
        while (end < r.size() && same_chord(r.at(i), r.at(end))) ++end;
        const bool at_home = is_tonic_chord(r.at(i), r.home) && r.at(i).sound != Sound::minor_seventh;
        if (may_be_static(r, i) && !at_home && bars_between(r, i, end) >= least) mark(r.modal, i, end);
        i = end;
    }
}

/// Two chords in turn, neither of them a dominant, for eight bars or more.
void mark_two_chords(ChorusReading& r) {
    for (int i = 0; i + 1 < r.size(); ++i) {
        const int other = r.next_other(i);
        if (other < 0) return;
        int end = i;
        int changes = 0;
        while (end < r.size() && may_be_static(r, end) && r.at(end).sound != Sound::dominant &&
               (same_chord(r.at(end), r.at(i)) || same_chord(r.at(end), r.at(other)))) {
            if (end > i && !same_chord(r.at(end), r.at(end - 1))) ++changes;
            ++end;
        }
        if (changes >= 3 && bars_between(r, i, end) >= static_bars) mark(r.modal, i, end);
        if (end > i + 1) i = std::max(i, end - 2);
    }
}

/// The end of the run of one chord that begins at `first`.
int run_end(const ChorusReading& r, int first) {
    int end = first + 1;
    while (end < r.size() && same_chord(r.at(first), r.at(end))) ++end;
    return end;
}

/// A sound that may stay for its own sake, for four bars or more.
bool is_level(const ChorusReading& r, int first, int end) {
    return may_be_static(r, first) && r.at(first).sound != Sound::dominant &&
           bars_between(r, first, end) >= level_bars;
}

bool is_fifth(int motion) {
    return motion == 5 || motion == 7;
}

/// Fmaj7#11 for four bars, Ebmaj7#11 for four: levels of one sound side by side, a fifth apart nowhere. What
/// comes after its own dominant, or serves as a ii or V in front of a chord a fifth below, is no level.
void mark_levels(ChorusReading& r) {
    for (int first = 0; first < r.size();) {
        std::vector<int> starts{first};
        int end = run_end(r, first);
        if (!is_level(r, first, end)) {
            first = end;
            continue;
        }
        while (end < r.size() && r.at(end).sound == r.at(first).sound &&
               !is_fifth(semitones_up(r.at(end - 1), r.at(end))) && is_level(r, end, run_end(r, end))) {
            starts.push_back(end);
            end = run_end(r, end);
        }
        const int next = end;
        const auto& before = r.at(first > 0 ? first - 1 : r.size() - 1);
        const auto& after = r.at(next < r.size() ? next : 0);
        const int into = semitones_up(before, r.at(first));
        if (is_dominant_like(before.sound) && (into == 5 || into == 11)) starts.erase(starts.begin());
        if (semitones_up(r.at(next - 1), after) == 5) {
            end = starts.empty() ? end : starts.back();
            if (!starts.empty()) starts.pop_back();
        }
        if (starts.size() >= 2) mark(r.modal, starts.front(), end);
        first = next;
    }
}

bool is_home_dominant(const ChorusReading& r, int i) {
    return is_dominant_like(r.at(i).sound) && semitones_up(r.home.tonic, r.at(i).root) == 7;
}

/// Under a modal key: eight bars or more whose chords have no tone outside the mode's scale.
void mark_mode(ChorusReading& r) {
    if (!r.mode) return;
    for (int i = 0; i < r.size();) {
        int end = i;
        while (end < r.size() && lies_in(r.at(end), *r.mode)) ++end;
        int first = i, last = end;  // a V that leads into the stretch or out of it is none of its chords
        while (first < last && is_home_dominant(r, first)) ++first;
        while (last > first && is_home_dominant(r, last - 1)) --last;
        if (last > first && bars_between(r, first, last) >= static_bars) mark(r.modal, first, last);
        i = std::max(end, i + 1);
    }
}

int bass_of(const Heard& chord) {
    return theory::pitch_class(theory::bass_of(*chord.chord));
}

bool has_degree(const theory::Chord& chord, int degree, int alteration) {
    const auto degrees = theory::degrees(chord);
    return std::find(degrees.begin(), degrees.end(), theory::Degree{degree, alteration}) != degrees.end();
}

/// The voice of a line, in half steps above the root: 7 fifth, 8 raised fifth, 9 sixth, 10 and 11 sevenths,
/// 12 the root itself. A bare triad may hold either end of it; a written bass moves in its place.
std::vector<int> line_voices(const theory::Chord& chord) {
    if (chord.bass) {
        const int up = semitones_up(chord.root, *chord.bass);
        return {up == 0 ? 12 : up};
    }
    if (has_degree(chord, 7, 0)) return {11};
    if (has_degree(chord, 7, -1)) return {10};
    if (has_degree(chord, 6, 0)) return {9};
    if (has_degree(chord, 5, 1)) return {8};
    return {7, 12};
}

bool same_third(const Heard& a, const Heard& b) {
    return a.root == b.root && has_degree(*a.chord, 3, -1) == has_degree(*b.chord, 3, -1) &&
           has_degree(*a.chord, 5, -1) == has_degree(*b.chord, 5, -1);
}

/// The end of the longest stretch from `first` on whose voice moves by half steps in one direction (by a
/// whole step from one of its ends); a repeated chord waits.
int moving_end(const ChorusReading& r, int first, int direction) {
    int best = first + 1;
    auto starts = line_voices(*r.at(first).chord);
    if (first + 1 < r.size() && !r.at(first).chord->bass && r.at(first + 1).chord->bass)
        starts.push_back(12);  // Gm7 Gm7/F#: the bass leaves the root
    for (int voice : starts) {
        int i = first + 1, moved = 0;
        for (; i < r.size() && same_third(r.at(i - 1), r.at(i)); ++i) {
            const auto voices = line_voices(*r.at(i).chord);
            if (std::find(voices.begin(), voices.end(), voice) != voices.end()) continue;
            if (std::find(voices.begin(), voices.end(), voice + direction) == voices.end()) break;
            voice += direction;
            ++moved;
        }
        if (moved >= 2) best = std::max(best, i);
    }
    return best;
}

/// C C+ C6 C7, Am Am/G# Am/G: one chord in three shades or more, of which a voice or the bass moves by half
/// steps (common practice, no source).
void mark_moving_voices(ChorusReading& r) {
    for (int i = 0; i < r.size(); ++i)
        for (const int direction : {-1, 1})
            if (const int end = moving_end(r, i, direction); end > i + 2) mark(r.line, i, end);
}

/// Sounds one root alone from `first` on; the end of that run within [first, end).
int root_end(const ChorusReading& r, int first, int end) {
    int i = first + 1;
    while (i < end && r.at(i).root == r.at(first).root) ++i;
    return i;
}

/// Three or more roots in turn over one bass, at least one of them with that bass written; a chord of the
/// bass itself at either end counts once.
void mark_pedal(ChorusReading& r, int first, int end) {
    int moves = 0;
    bool written = false;
    for (int i = first; i < end; ++i) {
        written = written || r.at(i).chord->bass.has_value();
        if (i > first && r.at(i).root != r.at(i - 1).root) ++moves;
    }
    if (moves < 2 || !written) return;
    if (r.at(first).root == bass_of(r.at(first))) first = root_end(r, first, end) - 1;
    while (end - 2 > first && r.at(end - 1).root == bass_of(r.at(end - 1)) &&
           r.at(end - 2).root == r.at(end - 1).root)
        --end;
    mark(r.pedal, first, end);
}

void mark_pedals(ChorusReading& r) {
    for (int i = 0; i < r.size();) {
        int end = i + 1;
        while (end < r.size() && bass_of(r.at(end)) == bass_of(r.at(i))) ++end;
        mark_pedal(r, i, end);
        i = end;
    }
}

void mark_lines(ChorusReading& r) {
    for (int i = 0; i < r.size(); ++i) {
        const int host = r.hosts[static_cast<std::size_t>(i)];
        // A diminished chord is no voice, and a major seventh that falls to the sixth is no line yet.
        if (host < 0 || r.at(i).sound == Sound::diminished || r.at(i).sound == Sound::major ||
            r.at(i).chord->quality == r.at(host).chord->quality)
            continue;
        mark(r.line, host, i + 1);
    }
    mark_moving_voices(r);
}

/// Three or more chords of one quality by equal steps of at most a minor third; dominants that fall by half
/// steps are substitutes of one another, and fifths are no planing.
void mark_planing(ChorusReading& r) {
    for (int i = 0; i + 2 < r.size(); ++i) {
        const int step = semitones_up(r.at(i), r.at(i + 1));
        const bool small = step != 0 && (step <= 3 || step >= 9);
        const bool substitutes = is_dominant_like(r.at(i).sound) && step == 11;
        int end = i + 1;
        while (end < r.size() && r.at(end).chord->quality == r.at(i).chord->quality &&
               semitones_up(r.at(end - 1), r.at(end)) == step)
            ++end;
        if (small && !substitutes && end - i >= 3) mark(r.planing, i, end);
    }
}

bool rests(const ChorusReading& r, int first, int end) {
    for (int i = first; i < end; ++i)
        if (r.pedal[static_cast<std::size_t>(i)] || r.modal[static_cast<std::size_t>(i)]) return true;
    return false;
}

/// A dominant, a diminished chord, V as a triad, bIImaj7; a stretch that comes to rest at home leads nowhere.
bool leads_on(const Heard& chord, const Tonality& home) {
    const int degree = semitones_up(home.tonic, chord.root);
    return is_dominant_like(chord.sound) || chord.sound == Sound::diminished ||
           (chord.sound == Sound::major && (degree == 1 || degree == 7));
}

bool is_on_home_or_iii(const Heard& chord, const Tonality& home) {
    const int degree = semitones_up(home.tonic, chord.root);
    return degree == 0 || degree == 4;
}

/// The last chord of a turnaround turns to the tonic, to iii for it, or is one of the chords that an ear
/// expects to: V, bII or bVII7, vii°.
bool turns_home(const Heard& last, const Heard& next, const Tonality& home) {
    if (is_on_home_or_iii(next, home)) return true;
    const int degree = semitones_up(home.tonic, last.root);
    if (last.sound == Sound::diminished) return degree % 3 == 2;
    return degree == 7 || degree == 1 || (degree == 10 && is_dominant_like(last.sound));
}

/// What comes after `end` is the start of the part that ends there: the next chorus, or the part once more.
bool comes_round(const ChorusReading& r, int end) {
    if (end == r.size()) return true;
    int start = end - 1;
    while (start > 0 && !r.at(start).opens_section) --start;
    return r.at(end).opens_section && r.at(end).written == r.at(start).written;
}

/// Two bars of four chords inside a part whose last is the dominant, or its substitute, of a tonic that
/// comes.
bool comes_home(const ChorusReading& r, int first, int end) {
    if (end >= r.size() || end - first < 4 || r.at(end).root != r.home.tonic) return false;
    const int motion = semitones_up(r.at(end - 1), r.at(end));
    return is_dominant_like(r.at(end - 1).sound) && (motion == 5 || motion == 11);
}

/// From the tonic or iii back: the last two bars of eight, or of a part, that hold three chords or more and
/// turn to the tonic or to where the part begins, and any two bars that hold four and come home.
void mark_turnarounds(ChorusReading& r) {
    const int last_end =
        r.chorus.last ? r.size() - 1 : r.size();  // after the last chorus nothing comes round
    for (int end = 3; end <= last_end; ++end) {
        if (end < r.size() && r.at(end).level < 2) continue;
        const int boundary = end < r.size() ? r.at(end).bar : r.chorus.bars;
        int first = end;
        while (first > 0 && r.at(first - 1).bar >= boundary - 2) --first;
        if (end - first < 3 || rests(r, first, end) || !leads_on(r.at(end - 1), r.home)) continue;
        if (!is_on_home_or_iii(r.at(first), r.home)) continue;
        const auto& next = r.at(end < r.size() ? end : 0);
        const bool eight_end = end == r.size() || next.level >= 4;
        const auto turns = [&] { return turns_home(r.at(end - 1), next, r.home) || comes_round(r, end); };
        if ((eight_end && turns()) || comes_home(r, first, end)) mark(r.turnaround, first, end);
    }
}

}  // namespace

void mark_stretches(ChorusReading& reading) {
    const std::size_t count = reading.chorus.chords.size();
    for (auto* flags : {&reading.modal, &reading.pedal, &reading.line, &reading.planing, &reading.turnaround})
        flags->assign(count, false);
    mark_one_chord(reading);
    mark_two_chords(reading);
    mark_levels(reading);
    mark_mode(reading);
    mark_pedals(reading);
    mark_lines(reading);
    mark_planing(reading);
    mark_turnarounds(reading);
}

}  // namespace relead::analysis
