#include "property/tune/made_rows.h"

#include "theory/chord.h"
#include "tune/lower_lyrics.h"
#include "tune/note_value.h"
#include "tune/split.h"

namespace relead::tune::testing {
namespace {

constexpr const char* symbols[] = {"C",   "Dm7",   "G7b9",   "F#m7b5", "Bbmaj7",   "Eb6/9", "A7sus4",
                                   "C/E", "B°7",   "Ab7#11", "N.C.",   "Dm(maj7)", "E♭△7",  "G7(b9,b13)",
                                   "Cm6", "F7alt", "Gb13",   "A-7",    "C7{D}",    "Bb+7"};
constexpr NoteValue values[] = {{1, 0}, {2, 0}, {2, 1}, {4, 0}, {4, 1}, {4, 2}, {8, 0}, {8, 1}, {16, 0}};
constexpr const char* syllables[] = {"sea", "light", "o", "rope,", "don't", "fähr", "--", "a.b"};

theory::Pitch make_pitch(Dice& dice) {
    const theory::NoteName name{dice.between(-6, 10)};
    return theory::pitch_from(name, dice.between(3, 5));
}

theory::Chord make_chord(Dice& dice) {
    return *theory::parse_chord(dice.any(symbols)).chord;
}

/// Beats of each chord: even, or halves of beats at random.
std::vector<Beats> make_shares(Dice& dice, const Bar& bar) {
    const auto beats = bar.meter.in_beats(bar.length);
    if (bar.number > 0 && dice.one_in(2))
        if (auto shares = share_evenly(beats, dice.between(1, 4), bar.meter.groups)) return *shares;
    std::vector<Beats> shares;
    Beats left = beats;
    while (left > Beats(0)) {
        const int units = dice.between(1, 4);
        const Beats share(units, dice.one_in(3) ? 2 : 1);
        shares.push_back(share < left ? share : left);
        left -= shares.back();
    }
    return shares;
}

void add_triplet(Dice& dice, Time at, NoteValue value, std::vector<NoteEvent>& notes) {
    for (int i = 0; i < 3; ++i) {
        NoteEvent note;
        note.pitch = make_pitch(dice);
        note.value = value;
        note.length = time_of(value) * Fraction(2, 3);
        note.at = at + note.length * Fraction(i);
        note.tuplet = Tuplet{3, 2, i == 0, i == 2};
        notes.push_back(note);
    }
}

NoteEvent make_note(Dice& dice, Time at, NoteValue value) {
    NoteEvent note;
    note.kind = dice.one_in(5)    ? NoteEvent::Kind::rest
                : dice.one_in(12) ? NoteEvent::Kind::unknown
                                  : NoteEvent::Kind::note;
    note.at = at;
    note.value = value;
    note.length = time_of(value);
    if (note.kind != NoteEvent::Kind::note) return note;
    note.pitch = make_pitch(dice);
    while (dice.one_in(8)) note.grace.push_back(make_pitch(dice));
    return note;
}

/// Some neighbours are tied, some slurred.
void join(Dice& dice, std::vector<NoteEvent>& notes) {
    for (std::size_t i = 0; i + 1 < notes.size(); ++i) {
        auto &note = notes[i], &next = notes[i + 1];
        if (note.kind != NoteEvent::Kind::note || next.kind != NoteEvent::Kind::note) continue;
        if (dice.one_in(5)) {
            next.pitch = note.pitch;
            note.tied_to_next = true;
        } else if (dice.one_in(6)) {
            ++note.slurs_begin;
            ++next.slurs_end;
        }
    }
}

std::vector<NoteEvent> make_longs(Dice& dice, const Bar& bar) {
    if (!dice.one_in(3) || bar.number == 0) return make_notes(dice, bar.length);
    std::vector<NoteEvent> notes;
    const int count = dice.between(1, 2);
    const auto share = bar.length / Time(count);
    const auto value = value_of(share);
    if (!value && count > 1) return make_notes(dice, bar.length);
    for (int i = 0; i < count; ++i) {
        NoteEvent note;
        note.pitch = make_pitch(dice);
        note.value = value.value_or(NoteValue{1, 0});
        note.length = share;
        note.at = share * Time(i);
        notes.push_back(note);
    }
    return notes;
}

std::vector<HitEvent> make_hits(Dice& dice, Time length) {
    std::vector<HitEvent> hits;
    for (const auto& note : make_notes(dice, length)) {
        HitEvent hit;
        hit.kind = note.kind == NoteEvent::Kind::rest ? HitEvent::Kind::rest
                   : dice.one_in(2)                   ? HitEvent::Kind::brief
                                                      : HitEvent::Kind::held;
        hit.at = note.at;
        hit.length = note.length;
        hit.value = note.value;
        hit.tuplet = note.tuplet;
        hit.tied_to_next = hit.kind == HitEvent::Kind::held && note.tied_to_next;
        hits.push_back(hit);
    }
    return hits;
}

/// Syllables on the first notes of each bar; some words go on over the bar line.
void sing(Dice& dice, Section& section, std::size_t verse) {
    bool in_word = false;
    Syllable* last = nullptr;
    for (std::size_t b = 0; b < section.bars.size(); ++b) {
        auto& bar = section.bars[b];
        bar.lyrics.resize(std::max(bar.lyrics.size(), verse + 1));
        const auto notes = singable(section.bars, static_cast<int>(b));
        const auto count = notes.empty() ? 0 : dice.below(static_cast<int>(notes.size()) + 1);
        bar.lyrics[verse].reserve(notes.size());  // `last` points into it
        for (int i = 0; i < count; ++i) {
            if (last != nullptr && dice.one_in(4)) {
                last->extends = true;
                ++last->held;
                continue;
            }
            const bool goes_on = dice.one_in(3);
            const auto part = in_word ? (goes_on ? Syllable::Part::middle : Syllable::Part::end)
                                      : (goes_on ? Syllable::Part::begin : Syllable::Part::single);
            bar.lyrics[verse].push_back(
                {dice.any(syllables), part, notes[static_cast<std::size_t>(i)], false, 0});
            last = &bar.lyrics[verse].back();
            in_word = goes_on;
        }
        if (static_cast<std::size_t>(count) < notes.size()) last = nullptr;  // nothing held over a gap
    }
}

void fill_bar(Dice& dice, Section& section, std::size_t index) {
    auto& bar = section.bars[index];
    const auto* before = index > 0 ? &section.bars[index - 1] : nullptr;
    if (before != nullptr && before->number > 0 && before->length == bar.length && dice.one_in(6)) {
        bar.changes = before->changes;
        bar.changes.front().push = Push::none;
        bar.simile = true;
    } else {
        bar.changes = make_chords(dice, bar);
    }
    if (dice.one_in(5)) bar.ossia = make_chords(dice, bar);
    if (dice.one_in(6)) bar.soloist = make_chords(dice, bar);
    if (bar.number == 0 || !dice.one_in(6)) bar.melody = make_notes(dice, bar.length);
    if (dice.one_in(4)) bar.longs = make_longs(dice, bar);
    if (dice.one_in(6)) bar.bass = make_notes(dice, bar.length);
    if (dice.one_in(5)) bar.hits = make_hits(dice, bar.length);
    if (dice.one_in(5)) bar.marks.push_back({Mark::Kind::text, dice.any(syllables), {}});
    if (dice.one_in(8)) bar.marks.push_back({Mark::Kind::fermata, "", {}});
}

}  // namespace

std::vector<ChordEvent> make_chords(Dice& dice, const Bar& bar) {
    std::vector<ChordEvent> events;
    Time now = 0;
    for (const auto share : make_shares(dice, bar)) {
        ChordEvent event;
        event.chord = make_chord(dice);
        event.at = now;
        event.length = share * bar.meter.beat_length();
        if (dice.one_in(6)) event.push = static_cast<Push>(dice.between(1, 3));
        event.locked = dice.one_in(8);
        now += event.length;
        events.push_back(std::move(event));
    }
    return events;
}

std::vector<NoteEvent> make_notes(Dice& dice, Time length) {
    std::vector<NoteEvent> notes;
    Time now = 0;
    while (now < length) {
        const auto value = dice.any(values);
        const auto left = length - now;
        if (value.dots == 0 && time_of(value) * Fraction(2) <= left && dice.one_in(6)) {
            add_triplet(dice, now, value, notes);
            now += time_of(value) * Fraction(2);
        } else if (time_of(value) <= left) {
            notes.push_back(make_note(dice, now, value));
            now += time_of(value);
        } else if (const auto rest = value_of(left)) {
            notes.push_back(make_note(dice, now, *rest));
            now = length;
        }
    }
    if (notes.front().kind == NoteEvent::Kind::unknown) notes.front().kind = NoteEvent::Kind::rest;
    join(dice, notes);
    return notes;
}

void fill_rows(Dice& dice, Section& section) {
    for (std::size_t i = 0; i < section.bars.size(); ++i) fill_bar(dice, section, i);
    for (std::size_t verse = 0; verse < 2 && dice.one_in(3); ++verse) sing(dice, section, verse);
}

}  // namespace relead::tune::testing
