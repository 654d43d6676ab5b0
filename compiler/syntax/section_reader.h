// The sections of a tune, line after line: rows that belong together, endings, and what a changes row waits
// for.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "syntax/line_parser.h"
#include "syntax/tune_tree.h"
#include "text/diagnose.h"

namespace relead::syntax {

/// The line being read, without its comment, and the comments that go to whatever is made of it.
class LineAtHand {
public:
    LineAtHand() = default;
    LineAtHand(Span where, Trivia trivia) : span(where), trivia_(std::move(trivia)) {}

    /// Hands the comments over, once.
    [[nodiscard]] Trivia take() {
        taken_ = true;
        return std::move(trivia_);
    }
    [[nodiscard]] bool taken() const { return taken_; }

    Span span;

private:
    Trivia trivia_;
    bool taken_ = false;
};

class SectionReader {
public:
    /// Sections are added to `sections`.
    SectionReader(const Limits& limits, text::Sink& sink, std::vector<Section>& sections)
        : limits_(limits), sink_(sink), sections_(sections) {}

    /// A section line. Beyond the limit of sections its rows are passed over.
    void begin(LineParser& line, LineAtHand& at_hand);
    /// A row stands where no section is open: a section A `begins` with it, or it is lost.
    void begin_unnamed(const Words& row, Span line, bool begins);
    void read_row(RowKind kind, const Words& word, LineParser& line, LineAtHand& at_hand);
    /// Key, meter and tempo that wait for the next changes row, for a line that sets one of them; null in a
    /// section that is passed over.
    [[nodiscard]] RowGroup* changing();
    /// Whether a blank line stands above the line that is read now.
    void note_gap(bool gap);
    /// The section ends, if one is open.
    void finish();

    /// Where the next bar stands.
    [[nodiscard]] Place place() const;

private:
    void open(Section section);
    void begin_group(Section& section);
    void finish_group();
    void close_ending(Section& section);
    [[nodiscard]] bool may_stand(RowKind kind, const Words& word, const Section& section);

    const Limits& limits_;
    text::Sink& sink_;
    std::vector<Section>& sections_;
    bool open_ = false;
    bool in_group_ = false;
    RowGroup next_group_;  ///< with what waits for its changes row
    std::optional<Span> open_ending_;
    int bars_in_section_ = 0;
    int bars_ = 0;
};

}  // namespace relead::syntax
