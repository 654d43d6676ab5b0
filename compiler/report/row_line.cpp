#include "report/row_line.h"

#include <algorithm>
#include <cstddef>

#include "tune/unfold.h"

namespace relead::report {

namespace {

const tune::Section& section_of(const tune::Tune& tune, int section) {
    return tune.sections[static_cast<std::size_t>(section)];
}

bool same_cell(const std::vector<tune::ChordEvent>& a, const std::vector<tune::ChordEvent>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
        return x.at == y.at && x.length == y.length && x.chord == y.chord;
    });
}

/// Every soloist's cell in the order of the text.
std::vector<const std::vector<tune::ChordEvent>*> soloist_cells(const tune::Tune& tune) {
    std::vector<const std::vector<tune::ChordEvent>*> cells;
    for (const auto& section : tune.sections) {
        for (const auto& bar : section.bars) {
            if (bar.soloist) cells.push_back(&*bar.soloist);
        }
    }
    return cells;
}

bool has_own_soloist(const tune::Tune& tune, const tune::Tune& written) {
    const auto own = soloist_cells(tune);
    const auto before = soloist_cells(written);
    return !std::equal(own.begin(), own.end(), before.begin(), before.end(),
                       [](const auto* a, const auto* b) { return same_cell(*a, *b); });
}

RowLine line_of(const tune::Tune& tune, bool soloist) {
    RowLine line;
    line.soloist = soloist;
    for (const auto& played : tune::one_chorus(tune)) {
        const auto& section = section_of(tune, played.section);
        const auto& bar = section.bars[static_cast<std::size_t>(played.bar)];
        if (line.bars.empty() && bar.number == 0) line.pickup = bar.length;
        line.bars.push_back({played.start, bar.length, played.section, played.bar, played.playing});
        line.length = played.start + bar.length;
        const auto section_time = start_in_section(section, played.bar);
        tune::ChordRef ref{played.section, played.bar, 0};
        for (const auto& event : line.soloist&& bar.soloist ? *bar.soloist : bar.changes) {
            line.chords.push_back({played.start + event.at, event.length, event.chord, ref,
                                   section_time + event.at, event.push});
            ++ref.chord;
        }
    }
    return line;
}

}  // namespace

Time start_in_section(const tune::Section& section, int bar) {
    Time start = 0;
    for (int i = 0; i < bar; ++i) start += section.bars[static_cast<std::size_t>(i)].length;
    return start;
}

RowLine row_line(const tune::Tune& tune, const tune::Tune& written) {
    return line_of(tune, has_own_soloist(tune, written) && !soloist_cells(tune).empty());
}

RowLine soloist_line(const tune::Tune& tune) {
    return line_of(tune, true);
}

const LineChord* sounding_at(const RowLine& line, Time at) {
    const auto after = std::upper_bound(line.chords.begin(), line.chords.end(), at,
                                        [](Time time, const LineChord& chord) { return time < chord.start; });
    if (after == line.chords.begin()) return nullptr;
    const auto& chord = *std::prev(after);
    return at < chord.end() ? &chord : nullptr;
}

}  // namespace relead::report
