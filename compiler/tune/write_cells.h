// What a bar says in each row, as cells of the syntax tree, for write_rows.h.
#pragma once

#include <map>

#include "syntax/tune_tree.h"
#include "tune/lower_notes.h"
#include "tune/tune.h"

namespace relead::tune {

/// Writes cells bar by bar; remembers the durations that hold on in each row and held syllables.
class CellWriter {
public:
    explicit CellWriter(const Section& section) : section_(section) {}

    /// Durations are stated again at the start of a row group, though they would hold on.
    void begin_group();
    [[nodiscard]] syntax::Cell changes(int bar) const;
    [[nodiscard]] syntax::Cell other_changes(const std::vector<ChordEvent>& events, const Bar& bar) const;
    [[nodiscard]] syntax::Cell notes(syntax::RowKind row, const std::vector<NoteEvent>& events,
                                     const Bar& bar);
    [[nodiscard]] syntax::Cell hits(const std::vector<HitEvent>& events);
    [[nodiscard]] syntax::Cell lyrics(int bar, std::size_t verse);
    [[nodiscard]] syntax::Cell marks(const Bar& bar) const;

private:
    void state_duration(syntax::RowKind row, NoteValue value, syntax::NoteWord& word);

    const Section& section_;
    struct Row {
        RowState state;
        bool stated = false;  // in this row group
    };
    std::map<syntax::RowKind, Row> rows_;
    std::map<std::size_t, int> held_;  // by verse: notes that the last syllable is still held over
};

}  // namespace relead::tune
