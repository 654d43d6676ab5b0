#include "reharm/detour.h"

#include <algorithm>

namespace relead::reharm {
namespace {

int root_of(const theory::Chord& chord) {
    return theory::pitch_class(chord.root);
}

/// The chord that a placement has at a time of the chart; the written one outside it.
const theory::Chord& chord_at(const rules::Chart& written, const rules::Placement& placement, int spot,
                              Time time) {
    if (spot < placement.begin || spot >= placement.end) return written.at(spot).chord;
    const auto start = written.at(placement.begin).start;
    const auto after = std::find_if(placement.chords.begin(), placement.chords.end(),
                                    [&](const auto& chord) { return start + chord.at > time; });
    return (after == placement.chords.begin() ? after : std::prev(after))->chord;
}

int spot_at(const rules::Chart& written, const rules::Placement& placement, Time time) {
    int spot = placement.begin;
    while (spot + 1 < placement.end && written.at(spot + 1).start <= time) ++spot;
    return spot;
}

}  // namespace

bool leads_back(const rules::Chart& written, const rules::Placement& before, const rules::Placement& now) {
    const auto start = written.at(now.begin).start;
    return std::any_of(now.chords.begin(), now.chords.end(), [&](const auto& chord) {
        const auto time = start + chord.at;
        const int spot = spot_at(written, now, time);
        const int root = root_of(written.at(spot).chord);
        return !chord.kept_from && root_of(chord.chord) == root &&
               root_of(chord_at(written, before, spot, time)) != root;
    });
}

}  // namespace relead::reharm
