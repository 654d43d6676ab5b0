#include "tune/lower_section.h"

#include <algorithm>

#include "base/fmt.h"
#include "tune/lower_chords.h"
#include "tune/lower_lyrics.h"
#include "tune/lower_notes.h"

namespace relead::tune {
namespace {

using syntax::RowKind;

Mark::Kind lower_mark(syntax::MarkKind kind) {
    switch (kind) {
#define RELEAD_MARK(name, phrase) \
    case syntax::MarkKind::name:  \
        return Mark::Kind::name;
#include "syntax/marks.def"
#undef RELEAD_MARK
        case syntax::MarkKind::text:
            break;
    }
    return Mark::Kind::text;
}

bool is_simile(const syntax::Cell& cell) {
    return std::any_of(cell.chords.begin(), cell.chords.end(),
                       [](const auto& word) { return word.kind == syntax::ChordWord::Kind::simile; });
}

/// The chords of the bar before, once more; a push onto its first beat was that bar's own.
std::vector<ChordEvent> repeated(std::vector<ChordEvent> events, Span span) {
    for (auto& event : events) event.span = span;
    if (!events.empty()) events.front().push = Push::none;
    return events;
}

class SectionReader {
public:
    SectionReader(const syntax::Section& tree, const Opening& opening, const Reported& reported,
                  text::Sink& sink)
        : tree_(tree), sink_(sink), reported_(reported) {
        section_.name = tree.name.text;
        if (tree.title) section_.title = tree.title->text;
        section_.span = tree.span;
        section_.key = opening.key;
        section_.open_key = opening.open_key;
        section_.meter = meter_ = opening.meter;
        section_.tempo = opening.tempo;
    }

    Section read() {
        for (std::size_t i = 0; i < tree_.groups.size(); ++i) read_group(tree_.groups[i], i == 0);
        return std::move(section_);
    }

private:
    void read_group(const syntax::RowGroup& group, bool first) {
        if (group.rows.empty()) return;
        if (first) open_section(group);
        const auto begin = section_.bars.size();
        add_bars(group, first);
        if (!first && begin < section_.bars.size()) change(group, section_.bars[begin]);
        offset_ = begin;
        for (const auto& row : group.rows)
            if (row.kind != RowKind::lyrics && row.kind != RowKind::changes && !is_chord_row(row.kind))
                read_row(row, first);
        for (const auto& row : group.rows)
            if (row.kind == RowKind::changes) read_row(row, first);
        for (const auto& row : group.rows)
            if (is_chord_row(row.kind) && row.kind != RowKind::changes) read_row(row, first);
        std::size_t verse = 0;
        for (const auto& row : group.rows)
            if (row.kind == RowKind::lyrics) {
                verse_ = verse++;
                read_row(row, first);
            }
    }

    static bool is_chord_row(RowKind kind) {
        return kind == RowKind::changes || kind == RowKind::ossia || kind == RowKind::soloist;
    }

    void open_section(const syntax::RowGroup& group) {
        if (group.key) {
            section_.open_key = !group.key->key;
            section_.key = group.key->key.value_or(theory::Key{});
        }
        if (group.meter) section_.meter = meter_ = lower_meter(*group.meter);
        if (group.tempo) section_.tempo = lower_tempo(*group.tempo);
    }

    void change(const syntax::RowGroup& group, Bar& bar) {
        if (group.key) {
            bar.opens_key = !group.key->key;
            bar.new_key = group.key->key.value_or(theory::Key{});
        }
        if (group.meter) bar.new_meter = bar.meter;
        if (group.tempo) bar.new_tempo = lower_tempo(*group.tempo);
    }

    void add_bars(const syntax::RowGroup& group, bool first) {
        if (group.meter) meter_ = lower_meter(*group.meter);
        has_pickup_ = first && std::any_of(group.rows.begin(), group.rows.end(),
                                           [](const auto& row) { return row.pickup.has_value(); });
        if (has_pickup_) section_.bars.push_back(pickup_bar(group));
        for (const auto& cell : group.rows.front().cells) {
            Bar bar;
            bar.number = ++number_;
            bar.meter = meter_;
            bar.length = meter_.bar_length();
            bar.span = cell.span;
            set_signs(cell.signs, bar);
            section_.bars.push_back(std::move(bar));
        }
    }

    /// As long as its melody; else as its chords, or the first row that has notes.
    Bar pickup_bar(const syntax::RowGroup& group) const {
        Bar bar;
        bar.number = 0;
        bar.meter = meter_;
        const syntax::Row* longest = nullptr;
        const auto rank = [](RowKind kind) {
            switch (kind) {
                case RowKind::melody:
                    return 0;
                case RowKind::bass:
                    return 1;
                case RowKind::long_notes:
                    return 2;
                case RowKind::hits:
                    return 3;
                case RowKind::changes:
                    return 4;
                default:
                    return 5;
            }
        };
        for (const auto& row : group.rows)
            if (row.pickup && !row.pickup->empty &&
                (longest == nullptr || rank(row.kind) < rank(longest->kind)))
                longest = &row;
        if (longest == nullptr) return bar;
        bar.span = longest->pickup->span;
        bar.length = is_chord_row(longest->kind) ? pickup_length(*longest->pickup, meter_)
                                                 : cell_length(*longest->pickup, RowState{});
        return bar;
    }

    static void set_signs(const syntax::BarSigns& signs, Bar& bar) {
        bar.repeat_begins = signs.repeat_begins;
        bar.repeat_ends = signs.repeat_ends;
        bar.ending_begins = signs.ending_begins;
        bar.ending_ends = signs.ending_ends;
        bar.double_bar_after = signs.double_bar_after;
        bar.repeat_span = signs.repeat_span;
        bar.ending_span = signs.ending_span;
    }

    void read_row(const syntax::Row& row, bool first) {
        auto bar = offset_;
        if (has_pickup_ && first) {
            if (row.pickup) read_cell(row.kind, *row.pickup, bar);
            ++bar;
        }
        for (std::size_t i = 0; i < row.cells.size() && bar < section_.bars.size(); ++i, ++bar)
            read_cell(row.kind, row.cells[i], bar);
    }

    [[nodiscard]] Spot spot(const Bar& bar, const syntax::Cell& cell) const {
        const bool doubtful = std::any_of(reported_.begin(), reported_.end(), [&](const Span& error) {
            return error.begin <= cell.span.end && cell.span.begin <= error.end;
        });
        return {section_.name, bar.number, bar.meter, bar.length, doubtful};
    }

    void read_cell(RowKind kind, const syntax::Cell& cell, std::size_t index) {
        auto& bar = section_.bars[index];
        switch (kind) {
            case RowKind::changes:
                return read_changes(cell, index);
            case RowKind::ossia:
                return read_other_changes(cell, index, &Bar::ossia);
            case RowKind::soloist:
                return read_other_changes(cell, index, &Bar::soloist);
            case RowKind::melody:
                return read_notes(cell, bar, bar.melody, melody_, "melody");
            case RowKind::bass:
                return read_notes(cell, bar, bar.bass, bass_, "bass");
            case RowKind::long_notes:
                if (!says_nothing(cell)) bar.longs = lower_longs(cell, longs_, spot(bar, cell), sink_);
                return;
            case RowKind::hits:
                if (!cell.empty && !cell.notes.empty())
                    bar.hits = lower_hits(cell, hits_, spot(bar, cell), sink_);
                return;
            case RowKind::lyrics:
                while (verses_.size() <= verse_) verses_.emplace_back(static_cast<int>(verses_.size()));
                return verses_[verse_].sing(cell, section_.bars, static_cast<int>(index), spot(bar, cell),
                                            sink_);
            case RowKind::marks:
                for (const auto& mark : cell.marks)
                    bar.marks.push_back({lower_mark(mark.kind), mark.text, mark.span});
                return;
        }
    }

    /// `.`, blank, or a lone `?`: the bar is unknown.
    static bool says_nothing(const syntax::Cell& cell) {
        if (cell.empty || cell.notes.empty()) return true;
        return cell.notes.size() == 1 && cell.notes.front().kind == syntax::NoteWord::Kind::unknown &&
               !cell.notes.front().duration;
    }

    void read_notes(const syntax::Cell& cell, const Bar& bar, std::optional<std::vector<NoteEvent>>& target,
                    RowState& state, std::string_view row) {
        if (says_nothing(cell)) return;
        auto events = lower_notes(cell, state, spot(bar, cell), row, sink_);
        const bool known = std::any_of(events.begin(), events.end(), [](const NoteEvent& event) {
            return event.kind != NoteEvent::Kind::unknown;
        });
        if (known) target = std::move(events);
    }

    void read_changes(const syntax::Cell& cell, std::size_t index) {
        auto& bar = section_.bars[index];
        if (is_simile(cell)) return read_simile(cell, index);
        bar.changes = lower_chords(cell, spot(bar, cell), sink_);
        if (bar.changes.empty() && bar.number > 0) fill_with_no_chord(bar);  // reported before
    }

    static void fill_with_no_chord(Bar& bar) {
        ChordEvent silent;
        silent.length = bar.length;
        silent.span = bar.span;
        bar.changes = {silent};
    }

    void read_simile(const syntax::Cell& cell, std::size_t index) {
        auto& bar = section_.bars[index];
        const auto* before = index > 0 ? &section_.bars[index - 1] : nullptr;
        const bool fits = before != nullptr && before->number > 0 && before->length == bar.length;
        if (fits) {
            bar.changes = repeated(before->changes, cell.span);
            bar.simile = true;
            return;
        }
        sink_
            .emit(text::Code::simile_without_bar, cell.span,
                  before != nullptr && before->number > 0
                      ? fmt::format("% in {} repeats a bar of another length; write the chords.",
                                    spot(bar, cell).name())
                      : fmt::format("% in {} has no bar before it to repeat; write the chords.",
                                    spot(bar, cell).name()))
            .at(spot(bar, cell).place());
        fill_with_no_chord(bar);
    }

    void read_other_changes(const syntax::Cell& cell, std::size_t index,
                            std::optional<std::vector<ChordEvent>> Bar::*row) {
        auto& bar = section_.bars[index];
        if (cell.empty) return;
        if (is_simile(cell) && index > 0) {
            const auto& before = section_.bars[index - 1];
            if (before.length == bar.length && before.number > 0) {
                bar.*row = repeated((before.*row).value_or(before.changes), cell.span);
                return;
            }
        }
        auto events = lower_chords(cell, spot(bar, cell), sink_);
        if (!events.empty()) bar.*row = std::move(events);
    }

    const syntax::Section& tree_;
    text::Sink& sink_;
    const Reported& reported_;
    Section section_;
    Meter meter_;
    int number_ = 0;
    std::size_t offset_ = 0;  // first bar of the group, its pickup included
    bool has_pickup_ = false;
    RowState melody_, bass_, longs_, hits_;
    std::size_t verse_ = 0;
    std::vector<Verse> verses_;
};

}  // namespace

Meter lower_meter(const syntax::MeterLine& line) {
    return {line.beats, line.unit, line.groups};
}

Tempo lower_tempo(const syntax::TempoLine& line) {
    return {line.beats_per_minute, line.feel, line.words};
}

Section lower_section(const syntax::Section& tree, const Opening& opening, const Reported& reported,
                      text::Sink& sink) {
    return SectionReader(tree, opening, reported, sink).read();
}

}  // namespace relead::tune
