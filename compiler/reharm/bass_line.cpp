#include "reharm/bass_line.h"

#include <algorithm>

namespace relead::reharm {
namespace {

theory::NoteName bass_of(const theory::Chord& chord) {
    return chord.bass.value_or(chord.root);
}

/// Half steps between two basses, the shorter way round; far apart when one of them is N.C.
int distance(const theory::Chord& a, const theory::Chord& b) {
    constexpr int octave = 12;
    if (a.is_none() || b.is_none()) return octave;
    const int up = (theory::pitch_class(bass_of(b)) - theory::pitch_class(bass_of(a)) + octave) % octave;
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
    return std::nullopt;
}

}  // namespace relead::reharm
