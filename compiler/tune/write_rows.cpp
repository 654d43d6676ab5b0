#include "tune/write_rows.h"

#include <algorithm>
#include <functional>

#include "tune/write_cells.h"

namespace relead::tune {
namespace {

using syntax::Cell;
using syntax::RowKind;

constexpr int bars_in_group = 4;

class GroupWriter {
public:
    explicit GroupWriter(const Section& section)
        : section_(section), count_(static_cast<int>(section.bars.size())), cells_(section) {}

    std::vector<syntax::RowGroup> write() {
        int bar = 0;
        while (bar < count_) {
            const int first = bar;
            const bool pickup = at(bar).number == 0;
            if (pickup) ++bar;
            bar = std::max(group_end(bar), first + 1);
            groups_.push_back(write_group(first, bar, pickup));
        }
        return std::move(groups_);
    }

private:
    [[nodiscard]] const Bar& at(int bar) const { return section_.bars[static_cast<std::size_t>(bar)]; }
    [[nodiscard]] bool changes_at(int bar) const {
        return at(bar).new_key || at(bar).new_meter || at(bar).new_tempo;
    }

    /// One past the last bar of the group that begins with `first`.
    [[nodiscard]] int group_end(int first) const {
        bool in_ending = false;
        int bar = first;
        while (bar < count_) {
            if (bar > first && changes_at(bar)) break;
            const bool begins = !at(bar).ending_begins.empty();
            const bool goes_on = in_ending || (begins && bar > first && at(bar - 1).ending_ends);
            if (bar - first >= bars_in_group && !goes_on) break;
            in_ending = (in_ending || begins) && !at(bar).ending_ends;
            ++bar;
        }
        return bar;
    }

    syntax::RowGroup write_group(int first, int last, bool pickup) {
        syntax::RowGroup group;
        const auto& head = at(pickup && first + 1 < count_ ? first + 1 : first);
        group.first_bar = head.number;
        group.gap_before = !groups_.empty();
        if (head.new_key) group.key = write_key(*head.new_key, head.opens_key);
        if (head.new_meter) group.meter = write_meter(*head.new_meter);
        if (head.new_tempo) group.tempo = write_tempo(*head.new_tempo);
        cells_.begin_group();
        first_ = first;
        last_ = last;
        pickup_ = pickup;
        add_chord_rows(group);
        add_note_rows(group);
        return group;
    }

    void add_chord_rows(syntax::RowGroup& group) {
        add_row(group, RowKind::changes, [this](int bar) { return cells_.changes(bar); });
        for (std::size_t i = 0; i < group.rows.front().cells.size(); ++i)
            write_signs(at(first_ + (pickup_ ? 1 : 0) + static_cast<int>(i)),
                        group.rows.front().cells[i].signs);
        add_other_changes(group, RowKind::ossia, &Bar::ossia);
        add_other_changes(group, RowKind::soloist, &Bar::soloist);
    }

    void add_note_rows(syntax::RowGroup& group) {
        add_notes(group, RowKind::melody, &Bar::melody);
        for (std::size_t verse = 0; verse < verses(); ++verse)
            add_row(group, RowKind::lyrics, [this, verse](int bar) { return cells_.lyrics(bar, verse); });
        add_notes(group, RowKind::long_notes, &Bar::longs);
        add_notes(group, RowKind::bass, &Bar::bass);
        if (any([](const Bar& bar) { return bar.hits.has_value(); }))
            add_row(group, RowKind::hits,
                    [this](int bar) { return at(bar).hits ? cells_.hits(*at(bar).hits) : empty(); });
        if (any([](const Bar& bar) { return !bar.marks.empty(); }))
            add_row(group, RowKind::marks, [this](int bar) { return cells_.marks(at(bar)); });
    }

    static Cell empty() {
        Cell cell;
        cell.empty = true;
        return cell;
    }

    bool any(const std::function<bool(const Bar&)>& has) const {
        return std::any_of(section_.bars.begin() + first_, section_.bars.begin() + last_, has);
    }

    /// Verses of the group; those of the whole section where one is still held.
    [[nodiscard]] std::size_t verses() const {
        std::size_t here = 0;
        for (int bar = first_; bar < last_; ++bar) here = std::max(here, at(bar).lyrics.size());
        return here;
    }

    void add_other_changes(syntax::RowGroup& group, RowKind kind,
                           std::optional<std::vector<ChordEvent>> Bar::*row) {
        if (!any([row](const Bar& bar) { return (bar.*row).has_value(); })) return;
        add_row(group, kind, [this, row](int bar) {
            return at(bar).*row ? cells_.other_changes(*(at(bar).*row), at(bar)) : empty();
        });
    }

    void add_notes(syntax::RowGroup& group, RowKind kind, std::optional<std::vector<NoteEvent>> Bar::*row) {
        if (!any([row](const Bar& bar) { return (bar.*row).has_value(); })) return;
        add_row(group, kind, [this, kind, row](int bar) {
            return at(bar).*row ? cells_.notes(kind, *(at(bar).*row), at(bar)) : empty();
        });
    }

    void add_row(syntax::RowGroup& group, RowKind kind, const std::function<Cell(int)>& cell) {
        syntax::Row row;
        row.kind = kind;
        int bar = first_;
        if (pickup_) {
            auto before = cell(bar++);
            if (!before.empty) row.pickup = std::move(before);
        }
        for (; bar < last_; ++bar) row.cells.push_back(cell(bar));
        group.rows.push_back(std::move(row));
    }

    static void write_signs(const Bar& bar, syntax::BarSigns& signs) {
        signs.repeat_begins = bar.repeat_begins;
        signs.repeat_ends = bar.repeat_ends;
        signs.ending_begins = bar.ending_begins;
        signs.ending_ends = bar.ending_ends;
        signs.double_bar_after = bar.double_bar_after;
    }

    const Section& section_;
    int count_;
    CellWriter cells_;
    std::vector<syntax::RowGroup> groups_;
    int first_ = 0, last_ = 0;  // bars of the group, its pickup included
    bool pickup_ = false;
};

}  // namespace

std::vector<syntax::RowGroup> write_groups(const Section& section) {
    return GroupWriter(section).write();
}

syntax::KeyLine write_key(const theory::Key& key, bool open) {
    syntax::KeyLine line;
    if (!open) line.key = key;
    return line;
}

syntax::MeterLine write_meter(const Meter& meter) {
    syntax::MeterLine line;
    line.beats = meter.beats;
    line.unit = meter.unit;
    line.groups = meter.groups;
    return line;
}

syntax::TempoLine write_tempo(const Tempo& tempo) {
    syntax::TempoLine line;
    line.beats_per_minute = tempo.beats_per_minute;
    line.feel = tempo.feel;
    line.words = tempo.words;
    return line;
}

}  // namespace relead::tune
