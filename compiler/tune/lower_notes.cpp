#include "tune/lower_notes.h"

#include <algorithm>
#include <array>

#include "base/fmt.h"
#include "tune/note_value.h"
#include "tune/timed_notes.h"

namespace relead::tune {
namespace {

using Kind = syntax::NoteWord::Kind;

std::string_view value_name(NoteValue value) {
    switch (value.denominator) {
        case 1:
            return "whole note";
        case 2:
            return "half note";
        case 4:
            return "quarter";
        case 8:
            return "eighth";
        case 16:
            return "sixteenth";
        default:
            return "thirty-second";
    }
}

void report_tuplets(const TimedCell& timed, const Spot& spot, text::Sink& sink) {
    for (const auto& tuplet : timed.unfilled)
        sink.emit(text::Code::tuplet_length, tuplet.span,
                  fmt::format("The {}:{} group in {} holds {}{}, it needs {}.", tuplet.actual, tuplet.normal,
                              spot.name(), tuplet.value.dots > 0 ? "dotted values: " : "",
                              count_of(tuplet.held, value_name(tuplet.value)), tuplet.actual))
            .at(spot.place());
}

std::string rest_words(Time missing) {
    std::string words;
    for (const auto value : values_of(missing)) words += ' ' + duration_word(value) + " r";
    return words;
}

/// "A:7 holds" for the melody, "The bass of A:7 holds" for other rows.
std::string subject(std::string_view row, const Spot& spot) {
    if (row == "melody") return spot.name() + " holds ";
    return fmt::format("The {} of {} {} ", row, spot.name(), row == "hits" ? "hold" : "holds");
}

/// The last note is cut at the bar line: it starts inside, has no tuplet, and a plain value is left.
void fix_last_note(const TimedCell& timed, const Spot& spot, text::Sink::Note& note) {
    const auto& last = timed.notes.back();
    if (last.at >= spot.length || last.tuplet) return;
    const auto value = value_of(spot.length - last.at);
    if (!value) return;
    if (last.word->duration)
        note.fix(last.word->duration->span, duration_word(*value), "Shorten the last note");
    else
        note.fix({last.word->span.source, last.word->span.begin, last.word->span.begin},
                 duration_word(*value) + ' ', "Shorten the last note");
}

void check_sum(const syntax::Cell& cell, const TimedCell& timed, const Spot& spot, std::string_view row,
               text::Sink& sink) {
    if (timed.total == spot.length || spot.length == Time(0) || timed.notes.empty()) return;
    if (spot.doubtful || !timed.unfilled.empty()) return;
    const bool over = timed.total > spot.length;
    const auto code = row == "hits" ? text::Code::hits_do_not_fill
                      : over        ? text::Code::bar_overfull
                                    : text::Code::bar_underfull;
    Span span = cell.span;
    Place place = spot.place();
    if (over) {
        const auto first_over = std::find_if(timed.notes.begin(), timed.notes.end(), [&](const auto& note) {
            return note.at + note.length > spot.length;
        });
        span.begin = first_over->word->span.begin;
        span.end = timed.notes.back().word->span.end;
        place = spot.place(first_over->at);
    }
    auto note = sink.emit(code, span,
                          subject(row, spot) + count_of(spot.meter.in_beats(timed.total), "beat") +
                              ", the meter asks for " + mixed_number(spot.meter.in_beats(spot.length)) + '.');
    note.at(std::move(place));
    if (over) return fix_last_note(timed, spot, note);
    const Span end{cell.span.source, cell.span.end, cell.span.end};
    if (const auto rests = rest_words(spot.length - timed.total); !rests.empty())
        note.fix(end, rests, "Fill the bar with rests");
}

NoteEvent event_of(const TimedNote& timed) {
    NoteEvent event;
    const auto& word = *timed.word;
    event.kind = word.kind == Kind::rest    ? NoteEvent::Kind::rest
                 : word.kind == Kind::pitch ? NoteEvent::Kind::note
                                            : NoteEvent::Kind::unknown;
    if (event.kind == NoteEvent::Kind::note) event.pitch = word.pitch;
    event.at = timed.at;
    event.length = timed.length;
    event.value = timed.value;
    event.tuplet = timed.tuplet;
    event.outer_tuplet = timed.outer_tuplet;
    event.tied_to_next = word.tied;
    event.slurs_begin = word.slurs_begin;
    event.slurs_end = word.slurs_end;
    for (const auto& grace : word.grace) event.grace.push_back(grace.pitch);
    event.span = word.span;
    return event;
}

}  // namespace

Time cell_length(const syntax::Cell& cell, RowState state) {
    return time_notes(cell, state.running).total;
}

std::vector<NoteEvent> lower_notes(const syntax::Cell& cell, RowState& state, const Spot& spot,
                                   std::string_view row, text::Sink& sink) {
    const auto timed = time_notes(cell, state.running);
    state.running = timed.running;
    report_tuplets(timed, spot, sink);
    check_sum(cell, timed, spot, row, sink);
    std::vector<NoteEvent> events;
    for (const auto& note : timed.notes) events.push_back(event_of(note));
    return events;
}

std::vector<NoteEvent> lower_longs(const syntax::Cell& cell, RowState& state, const Spot& spot,
                                   text::Sink& sink) {
    const bool stated = std::any_of(cell.notes.begin(), cell.notes.end(), [](const auto& word) {
        return word.duration || !word.tuplets_begin.empty();
    });
    if (stated || cell.notes.empty() || spot.length == Time(0))
        return lower_notes(cell, state, spot, "long row", sink);
    const auto count = static_cast<int>(cell.notes.size());
    const auto share = spot.length / Time(count);
    const auto value = value_of(share);
    if (!value && count > 1)
        sink.emit(text::Code::long_split_unclear, cell.span,
                  fmt::format("The {} long notes of {} do not split its {} evenly; write their durations.",
                              count, spot.name(), count_of(spot.meter.in_beats(spot.length), "beat")))
            .at(spot.place());
    std::vector<NoteEvent> events;
    for (const auto& word : cell.notes) {
        TimedNote timed;
        timed.word = &word;
        timed.value = value.value_or(NoteValue{1, 0});
        timed.at = share * Time(static_cast<int>(events.size()));
        timed.length = share;
        events.push_back(event_of(timed));
    }
    return events;
}

std::vector<HitEvent> lower_hits(const syntax::Cell& cell, RowState& state, const Spot& spot,
                                 text::Sink& sink) {
    const auto timed = time_notes(cell, state.running);
    state.running = timed.running;
    report_tuplets(timed, spot, sink);
    check_sum(cell, timed, spot, "hits", sink);
    std::vector<HitEvent> events;
    for (const auto& note : timed.notes) {
        HitEvent event;
        event.kind = note.word->kind == Kind::brief  ? HitEvent::Kind::brief
                     : note.word->kind == Kind::held ? HitEvent::Kind::held
                                                     : HitEvent::Kind::rest;
        event.at = note.at;
        event.length = note.length;
        event.value = note.value;
        event.tuplet = note.tuplet;
        event.tied_to_next = note.word->tied;
        event.span = note.word->span;
        events.push_back(event);
    }
    return events;
}

}  // namespace relead::tune
