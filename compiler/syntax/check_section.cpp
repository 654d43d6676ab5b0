#include "syntax/check_section.h"

#include <string>
#include <vector>

#include "base/fmt.h"

namespace relead::syntax {
using text::Code;

namespace {

Place place_in(const std::string& section, int bar) {
    Place place;
    place.section = section;
    place.bar = bar;
    return place;
}

std::string bars(std::size_t count) {
    return fmt::format("{} {}", count, count == 1 ? "bar" : "bars");
}

/// What adds so many open bars to a row whose last bar sign stands.
std::string open_bars(std::size_t count) {
    std::string text;
    for (; count > 0; --count) text += " . |";
    return text;
}

std::string range_of(const RowGroup& group, const std::string& section) {
    const auto count = static_cast<int>(group.rows.front().cells.size());
    const auto last = group.first_bar + count - 1;
    return count < 2 ? fmt::format("{}:{}", section, group.first_bar)
                     : fmt::format("{}:{}-{}", section, group.first_bar, last);
}

/// A note on which a slur was opened.
struct OpenSlur {
    NoteWord* note;
    int bar;
};

class SlurMatcher {
public:
    SlurMatcher(const std::string& section, text::Sink& sink) : section_(section), sink_(sink) {}

    void read(NoteWord& note, int bar) {
        for (int i = 0; i < note.slurs_begin; ++i) open_.push_back({&note, bar});
        while (note.slurs_end > 0 && static_cast<std::size_t>(note.slurs_end) > open_.size()) {
            sink_.emit(Code::slur_misplaced, note.span, "A slur ends at this note, but none is open.")
                .at(place_in(section_, bar));
            --note.slurs_end;
        }
        open_.resize(open_.size() - static_cast<std::size_t>(note.slurs_end));
    }

    void finish() {
        for (const auto& slur : open_) {
            sink_
                .emit(Code::slur_unclosed, slur.note->span,
                      fmt::format("The slur that begins here does not end in section {}.", section_))
                .at(place_in(section_, slur.bar));
            --slur.note->slurs_begin;
        }
    }

private:
    const std::string& section_;
    text::Sink& sink_;
    std::vector<OpenSlur> open_;
};

}  // namespace

void match_rows(RowGroup& group, const std::string& section, text::Sink& sink) {
    const auto count = group.rows.front().cells.size();
    for (std::size_t i = 1; i < group.rows.size(); ++i) {
        auto& row = group.rows[i];
        const auto has = row.cells.size();
        if (has == count) continue;
        const auto sentence =
            fmt::format("The {} row of {} has {}, its changes row has {}.", row_word(row.kind),
                        range_of(group, section), bars(has), bars(count));
        const auto place = place_in(section, group.first_bar + static_cast<int>(std::min(has, count)));
        const Span end{row.span.source, row.span.end, row.span.end};
        if (has > count) {
            sink.emit(Code::row_extra_cell, row.cells[count].span, sentence).at(place);
        } else if (has > 0) {
            sink.emit(Code::row_missing_cell, end, sentence)
                .at(place)
                .fix(end, open_bars(count - has),
                     count - has == 1 ? "leave the last bar open"
                                      : fmt::format("leave the last {} open", bars(count - has)));
        }
        Cell empty;
        empty.empty = true;
        empty.span = end;
        row.cells.resize(count, empty);
    }
}

void match_slurs(Section& section, text::Sink& sink) {
    for (const auto kind : {RowKind::melody, RowKind::long_notes, RowKind::bass}) {
        SlurMatcher matcher(section.name.text, sink);
        for (auto& group : section.groups)
            for (auto& row : group.rows) {
                if (row.kind != kind) continue;
                if (row.pickup)
                    for (auto& note : row.pickup->notes) matcher.read(note, 0);
                int bar = group.first_bar;
                for (auto& cell : row.cells) {
                    for (auto& note : cell.notes) matcher.read(note, bar);
                    ++bar;
                }
            }
        matcher.finish();
    }
}

}  // namespace relead::syntax
