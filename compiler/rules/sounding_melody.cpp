#include "rules/sounding_melody.h"

#include <algorithm>

namespace relead::rules {

Time SoundingNote::within(Time from, Time to) const {
    const auto first = std::max(from, start);
    const auto last = std::min(to, end());
    return last > first ? last - first : Time(0);
}

Time sounding_within(std::span<const SoundingNote> notes, std::size_t index, Time from, Time to) {
    const auto again = [&](std::size_t a, std::size_t b) {
        return notes[a].pitch == notes[b].pitch && notes[a].end() == notes[b].start;
    };
    auto first = index, last = index;
    while (first > 0 && again(first - 1, first)) --first;
    while (last + 1 < notes.size() && again(last, last + 1)) ++last;
    Time sum = 0;
    for (auto i = first; i <= last; ++i) sum += notes[i].within(from, to);
    return sum;
}

Melodies::Line Melodies::read(const tune::Section& section) {
    Line line;
    Time bar_start = 0;
    bool tied = false;
    for (std::size_t b = 0; b < section.bars.size(); ++b) {
        const auto& bar = section.bars[b];
        const auto* row = bar.melody ? &*bar.melody : bar.longs ? &*bar.longs : nullptr;
        if (!row) {
            line.stretches.push_back({bar_start, bar_start + bar.length, false});
            tied = false;
        }
        for (std::size_t n = 0; row && n < row->size(); ++n) {
            const auto& note = (*row)[n];
            const auto start = bar_start + note.at;
            line.stretches.push_back(
                {start, start + note.length, note.kind != tune::NoteEvent::Kind::unknown});
            if (note.kind == tune::NoteEvent::Kind::note) {
                if (tied && !line.notes.empty() && line.notes.back().pitch == note.pitch) {
                    line.notes.back().length += note.length;
                } else {
                    line.notes.push_back({note.pitch, start, note.length, static_cast<int>(b), note.at});
                }
            }
            tied = note.kind == tune::NoteEvent::Kind::note && note.tied_to_next;
        }
        bar_start += bar.length;
    }
    return line;
}

Melodies::Melodies(const tune::Tune& tune) {
    for (const auto& section : tune.sections) lines_.push_back(read(section));
}

SoundingMelody Melodies::between(int section, Time from, Time to) const {
    SoundingMelody melody;
    if (section < 0 || section >= static_cast<int>(lines_.size()) || to <= from) return melody;
    const auto& line = lines_[static_cast<std::size_t>(section)];
    auto stretch = std::partition_point(line.stretches.begin(), line.stretches.end(),
                                        [&](const Stretch& one) { return one.end <= from; });
    melody.all_known = true;
    for (; stretch != line.stretches.end() && stretch->start < to; ++stretch) {
        if (stretch->known) melody.known = true;
        if (!stretch->known) melody.all_known = false;
    }
    melody.all_known = melody.all_known && melody.known;
    const auto first = std::partition_point(line.notes.begin(), line.notes.end(),
                                            [&](const SoundingNote& one) { return one.end() <= from; });
    const auto last = std::partition_point(first, line.notes.end(),
                                           [&](const SoundingNote& one) { return one.start < to; });
    melody.notes = {first, last};
    return melody;
}

}  // namespace relead::rules
