#include "rules/sounding_melody.h"

#include <algorithm>

namespace relead::rules {

Time SoundingNote::within(Time from, Time to) const {
    const auto first = std::max(from, start);
    const auto last = std::min(to, end());
    return last > first ? last - first : Time(0);
}

namespace {

/// Walks the bars that matter: a tie may reach in from the bars before.
class MelodyReader {
public:
    MelodyReader(const tune::Section& section, Time from, Time to)
        : section_(section), from_(from), to_(to) {}

    SoundingMelody run() {
        std::vector<Time> starts;
        Time start = 0;
        for (const auto& bar : section_.bars) {
            starts.push_back(start);
            start += bar.length;
        }
        auto first = std::upper_bound(starts.begin(), starts.end(), from_) - starts.begin() - 1;
        first = std::max<std::ptrdiff_t>(0, first);
        while (first > 0 && tied_over(section_.bars[static_cast<std::size_t>(first) - 1])) --first;
        melody_.all_known = true;
        for (auto b = static_cast<std::size_t>(first); b < section_.bars.size() && starts[b] < to_; ++b)
            read_bar(static_cast<int>(b), starts[b]);
        std::erase_if(melody_.notes, [&](const auto& note) { return note.within(from_, to_) <= 0; });
        melody_.all_known = melody_.all_known && melody_.known;
        return std::move(melody_);
    }

private:
    static const std::vector<tune::NoteEvent>* row(const tune::Bar& bar) {
        return bar.melody ? &*bar.melody : bar.longs ? &*bar.longs : nullptr;
    }
    static bool tied_over(const tune::Bar& bar) {
        const auto* notes = row(bar);
        return notes && !notes->empty() && notes->back().tied_to_next;
    }
    void read_bar(int index, Time bar_start) {
        const auto& bar = section_.bars[static_cast<std::size_t>(index)];
        const bool asked = bar_start + bar.length > from_;
        const auto* notes = row(bar);
        if (!notes) {
            if (asked) melody_.all_known = false;
            tied_ = false;
            return;
        }
        for (const auto& note : *notes) read_note(note, index, bar_start, asked);
    }
    void read_note(const tune::NoteEvent& note, int bar, Time bar_start, bool asked) {
        using Kind = tune::NoteEvent::Kind;
        const bool inside = bar_start + note.at < to_ && bar_start + note.at + note.length > from_;
        if (asked && inside && note.kind == Kind::unknown) melody_.all_known = false;
        if (asked && inside && note.kind != Kind::unknown) melody_.known = true;
        if (note.kind == Kind::note) {
            if (tied_ && !melody_.notes.empty() && melody_.notes.back().pitch == note.pitch) {
                melody_.notes.back().length += note.length;
            } else {
                melody_.notes.push_back({note.pitch, bar_start + note.at, note.length, bar, note.at});
            }
        }
        tied_ = note.kind == Kind::note && note.tied_to_next;
    }

    const tune::Section& section_;
    Time from_, to_;
    SoundingMelody melody_;
    bool tied_ = false;
};

}  // namespace

SoundingMelody melody_between(const tune::Tune& tune, int section, Time from, Time to) {
    if (section < 0 || section >= static_cast<int>(tune.sections.size()) || to <= from) return {};
    return MelodyReader(tune.sections[static_cast<std::size_t>(section)], from, to).run();
}

}  // namespace relead::rules
