#include "tune/write_cells.h"

#include <algorithm>

#include "theory/chord.h"
#include "tune/lower_lyrics.h"
#include "tune/note_value.h"
#include "tune/split.h"

namespace relead::tune {
namespace {

syntax::Push write_push(Push push) {
    switch (push) {
        case Push::eighth_early:
            return syntax::Push::eighth_early;
        case Push::quarter_early:
            return syntax::Push::quarter_early;
        case Push::eighth_late:
            return syntax::Push::eighth_late;
        case Push::none:
            break;
    }
    return syntax::Push::none;
}

syntax::MarkKind write_mark(Mark::Kind kind) {
    switch (kind) {
#define RELEAD_MARK(name, phrase) \
    case Mark::Kind::name:        \
        return syntax::MarkKind::name;
#include "syntax/marks.def"
#undef RELEAD_MARK
        case Mark::Kind::text:
            break;
    }
    return syntax::MarkKind::text;
}

/// True when the chords need no `*` to be read with their lengths.
bool split_evenly(const std::vector<ChordEvent>& events, const Bar& bar) {
    if (bar.number == 0) return false;  // a pickup may take its length from these words
    const auto shares =
        share_evenly(bar.meter.in_beats(bar.length), static_cast<int>(events.size()), bar.meter.groups);
    if (!shares) return false;
    for (std::size_t i = 0; i < events.size(); ++i)
        if (bar.meter.in_beats(events[i].length) != (*shares)[i]) return false;
    return true;
}

/// What `%` would read as.
bool repeats(const std::vector<ChordEvent>& before, const std::vector<ChordEvent>& events) {
    return std::equal(before.begin(), before.end(), events.begin(), events.end(),
                      [&](const ChordEvent& a, const ChordEvent& b) {
                          const auto push = &a == &before.front() ? Push::none : a.push;
                          return a.chord == b.chord && a.at == b.at && a.length == b.length &&
                                 push == b.push && a.locked == b.locked;
                      });
}

syntax::Cell empty_cell() {
    syntax::Cell cell;
    cell.empty = true;
    return cell;
}

/// A `long` cell that is read right without durations.
bool splits_bar(const std::vector<NoteEvent>& events, const Bar& bar) {
    if (bar.number == 0 || events.empty()) return false;
    const auto share = bar.length / Time(static_cast<int>(events.size()));
    const auto value = value_of(share);
    if (!value && events.size() > 1) return false;
    return std::all_of(events.begin(), events.end(), [&](const NoteEvent& event) {
        return event.length == share && !event.tuplet && event.value == value.value_or(NoteValue{1, 0});
    });
}

void add_tuplet(const std::optional<Tuplet>& tuplet, syntax::NoteWord& word) {
    if (!tuplet) return;
    if (tuplet->begins) word.tuplets_begin.push_back({tuplet->actual, tuplet->normal, {}});
    if (tuplet->ends) ++word.tuplets_end;
}

syntax::NoteWord write_note(const NoteEvent& event) {
    using Kind = syntax::NoteWord::Kind;
    syntax::NoteWord word;
    word.kind = event.kind == NoteEvent::Kind::note   ? Kind::pitch
                : event.kind == NoteEvent::Kind::rest ? Kind::rest
                                                      : Kind::unknown;
    word.pitch = event.pitch;
    word.tied = event.tied_to_next;
    word.slurs_begin = event.slurs_begin;
    word.slurs_end = event.slurs_end;
    for (const auto& pitch : event.grace) word.grace.push_back({pitch, {}});
    add_tuplet(event.outer_tuplet, word);
    add_tuplet(event.tuplet, word);
    return word;
}

}  // namespace

void CellWriter::begin_group() {
    for (auto& [kind, row] : rows_) row.stated = false;
}

syntax::Cell CellWriter::other_changes(const std::vector<ChordEvent>& events, const Bar& bar) const {
    syntax::Cell cell;
    const bool even = split_evenly(events, bar);
    for (const auto& event : events) {
        syntax::ChordWord word;
        word.push = write_push(event.push);
        word.symbol = theory::to_string(event.chord);
        word.locked = event.locked;
        const auto beats = bar.meter.in_beats(event.length);
        if (!even && beats != Beats(1)) word.beats = beats;
        cell.chords.push_back(std::move(word));
    }
    cell.empty = events.empty();
    return cell;
}

syntax::Cell CellWriter::changes(int index) const {
    const auto& bar = section_.bars[static_cast<std::size_t>(index)];
    const auto* before = index > 0 ? &section_.bars[static_cast<std::size_t>(index) - 1] : nullptr;
    if (!bar.simile || before == nullptr || !repeats(before->changes, bar.changes))
        return other_changes(bar.changes, bar);
    syntax::Cell cell;
    syntax::ChordWord word;
    word.kind = syntax::ChordWord::Kind::simile;
    word.symbol = "%";
    cell.chords.push_back(std::move(word));
    return cell;
}

void CellWriter::state_duration(syntax::RowKind row, NoteValue value, syntax::NoteWord& word) {
    auto& [state, stated] = rows_[row];
    if (!stated || state.running != value)
        word.duration = syntax::DurationWord{value.denominator, value.dots, {}};
    state.running = value;
    stated = true;
}

syntax::Cell CellWriter::notes(syntax::RowKind row, const std::vector<NoteEvent>& events, const Bar& bar) {
    syntax::Cell cell;
    const bool is_long = row == syntax::RowKind::long_notes;
    const bool even = is_long && splits_bar(events, bar);
    if (is_long) rows_[row].stated = false;  // without any duration the notes would split the bar
    for (const auto& event : events) {
        auto word = write_note(event);
        if (!even) state_duration(row, event.value, word);
        cell.notes.push_back(std::move(word));
    }
    cell.empty = events.empty();
    return cell;
}

syntax::Cell CellWriter::hits(const std::vector<HitEvent>& events) {
    using Kind = syntax::NoteWord::Kind;
    syntax::Cell cell;
    for (const auto& event : events) {
        syntax::NoteWord word;
        word.kind = event.kind == HitEvent::Kind::brief  ? Kind::brief
                    : event.kind == HitEvent::Kind::held ? Kind::held
                                                         : Kind::rest;
        word.tied = event.tied_to_next;
        add_tuplet(event.tuplet, word);
        state_duration(syntax::RowKind::hits, event.value, word);
        cell.notes.push_back(std::move(word));
    }
    return cell;
}

syntax::Cell CellWriter::lyrics(int index, std::size_t verse) {
    const auto& bar = section_.bars[static_cast<std::size_t>(index)];
    if (!bar.melody) return empty_cell();
    static const std::vector<Syllable> nothing;
    const auto& syllables = verse < bar.lyrics.size() ? bar.lyrics[verse] : nothing;
    auto& held = held_[verse];
    syntax::Cell cell;
    std::size_t next = 0;
    syntax::LyricWord hold;
    hold.hold = true;
    for (const int note : singable(section_.bars, index)) {
        if (next < syllables.size() && syllables[next].note == note) {
            const auto& syllable = syllables[next++];
            syntax::LyricWord word;
            word.text = syllable.text;
            word.hyphen = syllable.part == Syllable::Part::begin || syllable.part == Syllable::Part::middle;
            cell.lyrics.push_back(std::move(word));
            held = syllable.held;
        } else if (held > 0 || next < syllables.size()) {
            cell.lyrics.push_back(hold);
            held = std::max(held - 1, 0);
        }
    }
    cell.empty = cell.lyrics.empty();
    return cell;
}

syntax::Cell CellWriter::marks(const Bar& bar) const {
    syntax::Cell cell;
    for (const auto& mark : bar.marks) cell.marks.push_back({write_mark(mark.kind), mark.text, {}});
    cell.empty = cell.marks.empty();
    return cell;
}

}  // namespace relead::tune
