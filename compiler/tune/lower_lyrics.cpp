#include "tune/lower_lyrics.h"

#include <algorithm>

#include "base/fmt.h"

namespace relead::tune {
namespace {

const Bar& at(const std::vector<Bar>& bars, int index) {
    return bars[static_cast<std::size_t>(index)];
}

Syllable::Part part_of(bool goes_on_before, bool goes_on_after) {
    if (goes_on_before) return goes_on_after ? Syllable::Part::middle : Syllable::Part::end;
    return goes_on_after ? Syllable::Part::begin : Syllable::Part::single;
}

}  // namespace

int bar_before(const std::vector<Bar>& bars, int bar) {
    int before = bar - 1;
    if (before < 0 || at(bars, bar).ending_begins.empty() || !at(bars, before).ending_ends) return before;
    while (before > 0 && (at(bars, before).ending_begins.empty() || at(bars, before - 1).ending_ends))
        --before;
    return before - 1;
}

std::vector<int> singable(const std::vector<Bar>& bars, int bar) {
    std::vector<int> indices;
    if (!at(bars, bar).melody) return indices;
    const int before = bar_before(bars, bar);
    bool tied = before >= 0 && at(bars, before).melody && !at(bars, before).melody->empty() &&
                at(bars, before).melody->back().tied_to_next;
    const auto& melody = *at(bars, bar).melody;
    for (std::size_t i = 0; i < melody.size(); ++i) {
        if (melody[i].kind == NoteEvent::Kind::note && !tied) indices.push_back(static_cast<int>(i));
        tied = melody[i].tied_to_next;
    }
    return indices;
}

void Verse::hold(std::vector<Bar>& bars) {
    if (last_bar_ < 0) return;
    auto& syllable =
        bars[static_cast<std::size_t>(last_bar_)].lyrics[static_cast<std::size_t>(number_)].back();
    syllable.extends = true;
    syllable.held += unsung_ + 1;  // held on means over all notes up to here
    unsung_ = 0;
}

void Verse::sing(const syntax::Cell& cell, std::vector<Bar>& bars, int bar, const Spot& spot,
                 text::Sink& sink) {
    auto& here = bars[static_cast<std::size_t>(bar)];
    const auto verse = static_cast<std::size_t>(number_);
    if (here.lyrics.size() <= verse) here.lyrics.resize(verse + 1);
    const auto notes = singable(bars, bar);
    if (cell.lyrics.empty()) {
        unsung_ += static_cast<int>(notes.size());
        return;
    }
    if (!here.melody) {
        sink.emit(text::Code::lyrics_without_notes, cell.span,
                  fmt::format("The words of {} need a melody to stand under.", spot.name()))
            .at(spot.place());
        return;
    }
    if (cell.lyrics.size() > notes.size()) {
        const Span extra{cell.span.source, cell.lyrics[notes.size()].span.begin, cell.lyrics.back().span.end};
        sink.emit(text::Code::lyrics_too_long, extra,
                  fmt::format("{} has {} for {}.", spot.name(),
                              count_of(static_cast<int>(cell.lyrics.size()), "syllable"),
                              count_of(static_cast<int>(notes.size()), "note")))
            .at(spot.place());
    }
    const auto count = std::min(cell.lyrics.size(), notes.size());
    for (std::size_t i = 0; i < count; ++i) {
        const auto& word = cell.lyrics[i];
        if (word.hold) {
            hold(bars);
            continue;
        }
        here.lyrics[verse].push_back({word.text, part_of(in_word_, word.hyphen), notes[i], false, 0});
        in_word_ = word.hyphen;
        last_bar_ = bar;
        unsung_ = 0;
    }
    unsung_ += static_cast<int>(notes.size() - count);
}

}  // namespace relead::tune
