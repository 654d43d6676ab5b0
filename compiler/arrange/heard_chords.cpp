#include "arrange/heard_chords.h"

#include "theory/note.h"

namespace relead::arrange {
namespace {

unsigned melody_over(const BandBar& bar, Time from, Time to) {
    unsigned classes = 0;
    if (!bar.head || !bar.bar->melody) return classes;
    for (const auto& note : *bar.bar->melody) {
        if (note.kind != tune::NoteEvent::Kind::note || note.at >= to || note.at + note.length <= from)
            continue;
        classes |= 1U << ((theory::midi_number(note.pitch) % 12 + 12) % 12);
    }
    return classes;
}

}  // namespace

Time push_of(const tune::ChordEvent& chord) {
    switch (chord.push) {
        case tune::Push::eighth_early:
            return {-1, 8};
        case tune::Push::quarter_early:
            return {-1, 4};
        case tune::Push::eighth_late:
            return {1, 8};
        default:
            return 0;
    }
}

std::vector<HeardChord> heard_chords(const BandBars& bars) {
    std::vector<HeardChord> chords;
    for (std::size_t i = 0; i < bars.bars.size(); ++i) {
        const auto& bar = bars.bars[i];
        if (bar.pickup) continue;
        for (const auto& event : bar.bar->changes) {
            HeardChord chord{&event, i, bar.at + event.at, 0, bar.at + event.at + event.length, true, 0};
            chord.heard = chord.at + push_of(event);
            if (chord.heard < Time(0)) chord.heard = chord.at;  // nothing lies before the beginning
            chord.melody = melody_over(bar, event.at, event.at + event.length);
            const bool goes_on = !chords.empty() && chords.back().end == chord.at &&
                                 chords.back().event->chord == event.chord && !bar.opens_chorus;
            chord.begins = !goes_on || event.at != Time(0) || event.push != tune::Push::none;
            chords.push_back(chord);
        }
    }
    return chords;
}

}  // namespace relead::arrange
