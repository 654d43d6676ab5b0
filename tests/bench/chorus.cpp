#include "bench/chorus.h"

#include <algorithm>

#include "theory/guide_motion.h"

namespace relead::bench {
namespace {

std::vector<Time> strong_beats(const tune::Meter& meter) {
    std::vector<Time> beats{0};
    if (!meter.groups.empty()) {
        for (std::size_t g = 0; g + 1 < meter.groups.size(); ++g)
            beats.push_back(beats.back() + Time(meter.groups[g], meter.unit));
        return beats;
    }
    const auto count = meter.in_beats(meter.bar_length());
    if (count.is_whole() && count.numerator() % 2 == 0 && count > 2) beats.push_back(meter.bar_length() / 2);
    return beats;
}

tune::Tempo tempo_at(const tune::Section& section, int bar) {
    auto tempo = section.tempo;
    for (int b = 0; b <= bar; ++b) {
        const auto& here = section.bars[static_cast<std::size_t>(b)];
        if (here.new_tempo) tempo = *here.new_tempo;
    }
    return tempo;
}

std::vector<PlayedMeasure> measures_of(const tune::Tune& tune, bool last) {
    std::vector<PlayedMeasure> measures;
    for (const auto& played : tune::play_chorus(tune, {last, true}).bars) {
        const auto& section = tune.sections[static_cast<std::size_t>(played.section)];
        const auto& bar = section.bars[static_cast<std::size_t>(played.bar)];
        PlayedMeasure measure{played, bar.length, bar.meter.beat_length(), 120, {}, false};
        measure.quarter_tempo =
            tempo_at(section, played.bar).beats_per_minute * measure.beat_length.to_double() * 4;
        if (bar.number > 0) {
            for (const auto beat : strong_beats(bar.meter)) measure.strong.push_back(played.start + beat);
        }
        measure.starts_section = bar.number == 1;
        measures.push_back(std::move(measure));
    }
    return measures;
}

const tune::Bar& bar_of(const tune::Tune& tune, const PlayedMeasure& measure) {
    return tune.sections[static_cast<std::size_t>(measure.bar.section)]
        .bars[static_cast<std::size_t>(measure.bar.bar)];
}

std::vector<Moment> chords_of(const tune::Tune& tune, const std::vector<PlayedMeasure>& measures) {
    std::vector<Moment> chords;
    for (const auto& measure : measures) {
        for (const auto& event : bar_of(tune, measure).changes) {
            const auto start = measure.bar.start + event.at;
            const bool goes_on = !chords.empty() && chords.back().end() == start &&
                                 same_sound(chords.back().chord, event.chord);
            if (goes_on) {
                chords.back().length += event.length;
            } else {
                chords.push_back({event.chord, start, event.length, false});
            }
        }
    }
    return chords;
}

std::vector<Note> melody_of(const tune::Tune& tune, const std::vector<PlayedMeasure>& measures) {
    std::vector<Note> notes;
    bool tied = false;
    for (const auto& measure : measures) {
        const auto& bar = bar_of(tune, measure);
        const auto* row = bar.melody ? &*bar.melody : bar.longs ? &*bar.longs : nullptr;
        if (row == nullptr) continue;
        for (const auto& event : *row) {
            if (event.kind == tune::NoteEvent::Kind::note) {
                const auto start = measure.bar.start + event.at;
                const int midi = theory::midi_number(event.pitch);
                if (tied && !notes.empty() && notes.back().midi == midi && notes.back().end() == start) {
                    notes.back().length += event.length;
                } else {
                    notes.push_back({midi, start, event.length});
                }
            }
            tied = event.kind == tune::NoteEvent::Kind::note && event.tied_to_next;
        }
    }
    return notes;
}

/// A bass player between low E and the D above middle of the neck, who goes the short way.
std::vector<int> bass_of(const std::vector<Moment>& chords) {
    constexpr int lowest = 28, highest = 50;
    std::vector<int> line;
    int here = 38;
    for (const auto& moment : chords) {
        if (!moment.chord.is_none()) {
            const int goal = theory::pitch_class(theory::bass_of(moment.chord));
            here += theory::nearest_way(here % 12, goal);
            if (here < lowest) here += 12;
            if (here > highest) here -= 12;
        }
        line.push_back(here);
    }
    return line;
}

template <class List>
auto sounding(const List& list, Time time) {
    auto found = std::upper_bound(list.begin(), list.end(), time,
                                  [](Time at, const auto& one) { return at < one.start; });
    if (found == list.begin()) return list.end();
    --found;
    return time < found->end() ? found : list.end();
}

}  // namespace

bool same_sound(const theory::Chord& a, const theory::Chord& b) {
    const auto bass = [](const theory::Chord& chord) { return theory::pitch_class(theory::bass_of(chord)); };
    return theory::pitch_class(a.root) == theory::pitch_class(b.root) && a.quality == b.quality &&
           a.extra == b.extra && a.omitted == b.omitted && bass(a) == bass(b) &&
           a.upper.has_value() == b.upper.has_value();
}

const Moment* Chorus::at(Time time) const {
    const auto found = sounding(chords, time);
    return found == chords.end() ? nullptr : &*found;
}

int Chorus::index_at(Time time) const {
    const auto found = sounding(chords, time);
    return found == chords.end() ? -1 : static_cast<int>(found - chords.begin());
}

std::optional<int> Chorus::note_at(Time time) const {
    const auto found = sounding(melody, time);
    if (found == melody.end()) return std::nullopt;
    return found->midi;
}

Chorus play(const tune::Tune& written, const tune::Tune& version, bool last) {
    Chorus chorus;
    chorus.bars = measures_of(written, last);
    chorus.chords = chords_of(version, chorus.bars);
    chorus.melody = melody_of(written, chorus.bars);
    chorus.bass = bass_of(chorus.chords);
    for (const auto& measure : chorus.bars) chorus.length += measure.length;
    Chorus before;
    before.chords = chords_of(written, chorus.bars);
    for (auto& moment : chorus.chords) {
        const auto* old = before.at(moment.start);
        moment.fresh = old == nullptr || !same_sound(old->chord, moment.chord);
    }
    return chorus;
}

double difference(const Chorus& a, const Chorus& b) {
    std::vector<Time> times;
    for (const auto& moment : a.chords) times.push_back(moment.start);
    for (const auto& moment : b.chords) times.push_back(moment.start);
    times.push_back(a.length);
    std::sort(times.begin(), times.end());
    Time differs = 0;
    for (std::size_t i = 0; i + 1 < times.size(); ++i) {
        const auto* x = a.at(times[i]);
        const auto* y = b.at(times[i]);
        if (x != nullptr && y != nullptr && !same_sound(x->chord, y->chord))
            differs += times[i + 1] - times[i];
    }
    return a.length > 0 ? (differs / a.length).to_double() : 0;
}

}  // namespace relead::bench
