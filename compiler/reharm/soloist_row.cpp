#include "reharm/soloist_row.h"

#include <algorithm>
#include <bitset>

namespace relead::reharm {
namespace {

int shared(const theory::Chord& a, const theory::Chord& b) {
    constexpr int pitch_classes = 12;
    return static_cast<int>(
        std::bitset<pitch_classes>(theory::pitch_class_set(a) & theory::pitch_class_set(b)).count());
}

}  // namespace

const std::vector<tune::ChordEvent>* soloist_over(const rules::Chart& chart, const rules::Spot& spot) {
    if (!spot.soloist_written) return nullptr;
    const auto& section = chart.tune->sections[static_cast<std::size_t>(spot.ref.section)];
    return &*section.bars[static_cast<std::size_t>(spot.ref.bar)].soloist;
}

std::optional<std::string> leaves_soloist_alone(const rules::Chart& chart,
                                                const rules::Placement& placement) {
    for (int i = placement.begin; i < placement.end; ++i) {
        const auto& spot = chart.at(i);
        const auto* row = soloist_over(chart, spot);
        if (row == nullptr) continue;
        for (const auto& chord : placement.chords) {
            if (chord.kept_from) continue;
            const auto from = std::max(chart.at(placement.begin).start + chord.at, spot.start);
            const auto to = std::min(chart.at(placement.begin).start + chord.at + chord.length, spot.end());
            for (const auto& solo : *row) {
                const auto start = spot.bar_start + solo.at;
                const bool together = std::max(from, start) < std::min(to, start + solo.length);
                if (!together || shared(chord.chord, solo.chord) >= shared(spot.chord, solo.chord)) continue;
                return "The tune has " + theory::to_string(solo.chord) + " for the soloist at " +
                       rules::place_name(chart, i) + ": " + theory::to_string(chord.chord) +
                       " has less of it than " + theory::to_string(spot.chord) + ".";
            }
        }
    }
    return {};
}

}  // namespace relead::reharm
