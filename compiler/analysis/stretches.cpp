#include "analysis/stretches.h"

#include <algorithm>

namespace relead::analysis {
namespace {

constexpr double static_bars = 8;  // one chord, or two in turn, for so long (common practice, no source)

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
    for (int i = 0; i < r.size();) {
        int end = i + 1;
        while (end < r.size() && same_chord(r.at(i), r.at(end))) ++end;
        const bool at_home = is_tonic_chord(r.at(i), r.home) && r.at(i).sound != Sound::minor_seventh;
        if (may_be_static(r, i) && !at_home && bars_between(r, i, end) >= static_bars) mark(r.modal, i, end);
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

int bass_of(const Heard& chord) {
    return theory::pitch_class(chord.chord->bass ? *chord.chord->bass : chord.chord->root);
}

/// Two or more different roots over one bass, at least one of them with that bass written.
void mark_pedals(ChorusReading& r) {
    for (int i = 0; i < r.size();) {
        int end = i + 1;
        bool moves = false, written = r.at(i).chord->bass.has_value();
        while (end < r.size() && bass_of(r.at(end)) == bass_of(r.at(i))) {
            moves = moves || r.at(end).root != r.at(i).root;
            written = written || r.at(end).chord->bass.has_value();
            ++end;
        }
        if (moves && written) mark(r.pedal, i, end);
        i = end;
    }
}

void mark_lines(ChorusReading& r) {
    for (int i = 0; i < r.size(); ++i) {
        const int host = r.hosts[static_cast<std::size_t>(i)];
        if (host < 0 || r.at(i).sound == Sound::diminished ||
            r.at(i).chord->quality == r.at(host).chord->quality)
            continue;
        mark(r.line, host, i + 1);
    }
}

/// Three or more chords of one quality by equal steps of at most a minor third; dominants that fall by half
/// steps are substitutes of one another, and fifths are no planing.
void mark_planing(ChorusReading& r) {
    for (int i = 0; i + 2 < r.size(); ++i) {
        const int step = up(r.at(i), r.at(i + 1));
        const bool small = step != 0 && (step <= 3 || step >= 9);
        const bool substitutes = is_dominant_like(r.at(i).sound) && step == 11;
        int end = i + 1;
        while (end < r.size() && r.at(end).chord->quality == r.at(i).chord->quality &&
               up(r.at(end - 1), r.at(end)) == step)
            ++end;
        if (small && !substitutes && end - i >= 3) mark(r.planing, i, end);
    }
}

/// The last two bars of a part that hold three chords or more, of which the last leads on.
void mark_turnarounds(ChorusReading& r) {
    for (int end = 3; end <= r.size(); ++end) {
        if (end < r.size() && r.at(end).level < 4) continue;
        const int boundary = end < r.size() ? r.at(end).bar : r.chorus.bars;
        int first = end;
        while (first > 0 && r.at(first - 1).bar >= boundary - 2) --first;
        const int start = up(r.home.tonic, first < end ? r.at(first).root : 0);
        const auto last = r.at(end - 1).sound;
        const bool leads = is_dominant_like(last) || last == Sound::diminished || last == Sound::major;
        if (end - first >= 3 && leads && (start == 0 || start == 4)) mark(r.turnaround, first, end);
    }
}

}  // namespace

void mark_stretches(ChorusReading& reading) {
    const std::size_t count = reading.chorus.chords.size();
    for (auto* flags : {&reading.modal, &reading.pedal, &reading.line, &reading.planing, &reading.turnaround})
        flags->assign(count, false);
    mark_one_chord(reading);
    mark_two_chords(reading);
    mark_pedals(reading);
    mark_lines(reading);
    mark_planing(reading);
    mark_turnarounds(reading);
}

}  // namespace relead::analysis
