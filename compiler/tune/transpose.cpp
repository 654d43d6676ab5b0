#include "tune/transpose.h"

#include <cstdlib>

namespace relead::tune {
namespace {

using theory::Interval;

template <class Keyed>
void move_key(Keyed& key, bool open, Interval by) {
    if (!open) key = theory::transpose(key, by);  // an open key is the bare signature of C
}

void move(std::vector<ChordEvent>& events, Interval by) {
    for (auto& event : events)
        if (!event.chord.is_none()) event.chord = theory::transpose(event.chord, by);
}

void move(std::vector<NoteEvent>& events, Interval by) {
    for (auto& event : events) {
        if (event.kind == NoteEvent::Kind::note) event.pitch = event.pitch + by;
        for (auto& grace : event.grace) grace = grace + by;
    }
}

void move(Bar& bar, Interval by) {
    if (bar.new_key) move_key(*bar.new_key, bar.opens_key, by);
    move(bar.changes, by);
    for (auto* row : {&bar.ossia, &bar.soloist})
        if (*row) move(**row, by);
    for (auto* row : {&bar.melody, &bar.longs, &bar.bass})
        if (*row) move(**row, by);
}

/// The interval to a tonic by the smaller way; a tritone goes up.
Interval smaller_way(int fifths) {
    Interval by{fifths, 0};
    while (by.semitones() > 6) --by.octaves;
    while (by.semitones() < -5) ++by.octaves;
    return by;
}

}  // namespace

Tune transpose(const Tune& tune, Interval by) {
    Tune moved = tune;
    move_key(moved.key, moved.open_key, by);
    if (moved.given_key) moved.given_key = theory::transpose(*moved.given_key, by);
    for (auto& section : moved.sections) {
        move_key(section.key, section.open_key, by);
        for (auto& bar : section.bars) move(bar, by);
    }
    return moved;
}

Tune transpose_to(const Tune& tune, theory::NoteName tonic) {
    return transpose(tune, smaller_way(tonic - tune.key.tonic));
}

}  // namespace relead::tune
