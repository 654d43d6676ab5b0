#include "reharm/bass_line.h"

#include <algorithm>
#include <vector>

namespace relead::reharm {
namespace {

/// Half steps between two basses, the shorter way round; far apart when one of them is N.C.
int distance(const theory::Chord& a, const theory::Chord& b) {
    constexpr int octave = 12;
    if (a.is_none() || b.is_none()) return octave;
    const int up = theory::semitones_up(bass_of(a), bass_of(b));
    return std::min(up, octave - up);
}

/// How the bass of a slash chord is in one line with a neighbour's, as written; nothing when it stands alone.
std::optional<std::string> line_of(const rules::Chart& chart, int spot) {
    constexpr int whole_step = 2;
    const auto& here = chart.at(spot);
    for (const bool onward : {true, false}) {
        for (const int other : onward ? here.next : here.previous) {
            const auto& neighbour = chart.at(other).chord;
            const int far = distance(here.chord, neighbour);
            if (far == 0) return "stays where it is";
            if (far <= whole_step)
                return (onward ? "goes on to " : "comes from ") + theory::to_string(bass_of(neighbour));
        }
    }
    return std::nullopt;
}

/// 1 when the bass rises a step from `a` to `b`, -1 when it falls one, else 0.
int step(const theory::Chord& a, const theory::Chord& b) {
    if (a.is_none() || b.is_none()) return 0;
    const int up = theory::semitones_up(bass_of(a), bass_of(b));
    return up == 1 || up == 2 ? 1 : up == 10 || up == 11 ? -1 : 0;
}

/// The spots after `spot` (before it when not `onward`) whose written basses go on by step in one direction.
std::vector<int> walk_from(const rules::Chart& chart, int spot, int way, bool onward) {
    constexpr std::size_t far_enough = 8;
    std::vector<int> walk;
    while (walk.size() < far_enough) {
        const auto& beside = onward ? chart.at(spot).next : chart.at(spot).previous;
        if (beside.empty()) break;
        const int other = beside.front();
        const auto &here = chart.at(spot).chord, &there = chart.at(other).chord;
        if ((onward ? step(here, there) : step(there, here)) != way) break;
        walk.push_back(other);
        spot = other;
    }
    return walk;
}

/// The way (1 up, -1 down) of a written line of three basses or more in which this one stands, with a slash
/// chord on its way; 0 where there is none. C/E F G begins with one: that is a bass of its own and two roots.
int way_of_line(const rules::Chart& chart, int spot) {
    for (const int way : {1, -1}) {
        auto line = walk_from(chart, spot, way, false);
        std::reverse(line.begin(), line.end());
        line.push_back(spot);
        for (const int after : walk_from(chart, spot, way, true)) line.push_back(after);
        constexpr std::size_t shortest = 3;
        if (line.size() < shortest) continue;
        const bool walks = std::any_of(line.begin() + 1, line.end() - 1,
                                       [&](int i) { return chart.at(i).chord.bass.has_value(); });
        if (walks) return way;
    }
    return 0;
}

/// What sounds at a time of the section in a placement; null where it does not reach.
const theory::Chord* sounding_at(const rules::Placement& placement, Time start, Time when) {
    for (const auto& chord : placement.chords) {
        if (start + chord.at <= when && when < start + chord.at + chord.length) return &chord.chord;
    }
    return nullptr;
}

const theory::Chord* last_before(const rules::Placement& placement, Time start, Time end) {
    const theory::Chord* last = nullptr;
    for (const auto& chord : placement.chords) {
        if (start + chord.at < end) last = &chord.chord;
    }
    return last;
}

/// A line of three basses keeps each of them, and the step from one to the next; a half step between is no
/// break.
std::optional<std::string> breaks_long_line(const rules::Chart& chart, const rules::Placement& placement) {
    const auto start = chart.at(placement.begin).start;
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& written = chart.at(i);
        const int way = way_of_line(chart, i);
        if (way == 0) continue;
        const auto sentence = [&](const theory::Chord& breaker) {
            return "The written bass walks by step through " + theory::to_string(bass_of(written.chord)) +
                   "; " + theory::to_string(breaker) + " would take it away.";
        };
        const auto* first = sounding_at(placement, start, written.start);
        if (first && distance(*first, written.chord) != 0) return sentence(*first);
        if (written.next.empty()) continue;
        const auto& next = chart.at(written.next.front()).chord;
        const auto* last = last_before(placement, start, written.end());
        if (!last || step(written.chord, next) != way) continue;
        const bool kept = distance(*last, written.chord) == 0;
        const bool between = step(written.chord, *last) == way && step(*last, next) == way;
        if (!kept && !between) return sentence(*last);
    }
    return std::nullopt;
}

}  // namespace

std::optional<std::string> breaks_bass_line(const rules::Chart& chart, const rules::Placement& placement) {
    const auto start = chart.at(placement.begin).start;
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& written = chart.at(i);
        if (!written.chord.bass) continue;
        const auto line = line_of(chart, i);
        if (!line) continue;
        for (const auto& chord : placement.chords) {
            const bool sounds =
                start + chord.at <= written.start && written.start < start + chord.at + chord.length;
            if (!sounds || distance(chord.chord, written.chord) == 0) continue;
            return "The written bass " + theory::to_string(*written.chord.bass) + " " + *line + "; " +
                   theory::to_string(chord.chord) + " would take it away.";
        }
    }
    return breaks_long_line(chart, placement);
}

}  // namespace relead::reharm
