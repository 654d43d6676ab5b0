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

/// The written neighbour that a slash chord is in one line with; null when it stands alone.
const theory::Chord* in_line_with(const rules::Chart& chart, int spot) {
    constexpr int whole_step = 2;
    const auto& here = chart.at(spot);
    for (const auto* neighbours : {&here.next, &here.previous}) {
        for (const int other : *neighbours) {
            if (distance(here.chord, chart.at(other).chord) <= whole_step) return &chart.at(other).chord;
        }
    }
    return nullptr;
}

}  // namespace

std::optional<std::string> breaks_bass_line(const rules::Chart& chart, const rules::Placement& placement) {
    const auto start = chart.at(placement.begin).start;
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& written = chart.at(i);
        if (!written.chord.bass) continue;
        const auto* neighbour = in_line_with(chart, i);
        if (!neighbour) continue;
        for (const auto& chord : placement.chords) {
            const bool sounds =
                start + chord.at <= written.start && written.start < start + chord.at + chord.length;
            if (!sounds || distance(chord.chord, written.chord) == 0) continue;
            const auto bass = theory::to_string(*written.chord.bass);
            const auto other = theory::to_string(bass_of(*neighbour));
            return "The written bass " + bass +
                   (bass == other ? " stays where it is" : " is in one line with " + other) + "; " +
                   theory::to_string(chord.chord) + " would take it away.";
        }
    }
    return std::nullopt;
}

}  // namespace relead::reharm
