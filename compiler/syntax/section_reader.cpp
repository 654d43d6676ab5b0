#include "syntax/section_reader.h"

#include <algorithm>
#include <utility>

#include "base/fmt.h"
#include "syntax/check_section.h"
#include "syntax/parse_row.h"

namespace relead::syntax {
using text::Code;

namespace {

Place place_of_ending(const Section& section, Span ending) {
    Place place;
    place.section = section.name.text;
    for (const auto& group : section.groups) {
        const auto& cells = group.rows.front().cells;
        for (std::size_t i = 0; i < cells.size(); ++i)
            if (cells[i].signs.ending_span == ending) place.bar = group.first_bar + static_cast<int>(i);
    }
    return place;
}

}  // namespace

void SectionReader::begin(LineParser& line, LineAtHand& at_hand) {
    if (static_cast<int>(sections_.size()) >= limits_.sections) {
        sink_.emit(Code::too_many_sections, at_hand.span,
                   fmt::format("A tune has {} sections at most.", limits_.sections));
        return;
    }
    Section section;
    section.span = at_hand.span;
    if (auto name = line.name())
        section.name = std::move(*name);
    else
        line.complain(Code::section_unnamed,
                      "The section has no name; write one word, then the printed title if "
                      "there is one: section B \"Bridge\".");
    if (line.peek().kind == Token::Kind::quoted) section.title = line.quoted_text("section");
    line.expect_end("section");
    section.trivia = at_hand.take();
    open(std::move(section));
}

void SectionReader::begin_unnamed(const Words& row, Span line, bool begins) {
    const Span at{line.source, line.begin, line.begin};
    auto note =
        sink_.emit(Code::line_outside_section, row.span,
                   fmt::format("The {} row stands in no section; a section line comes first.", row.text));
    if (!begins) return;
    note.fix(at, "section A\n", "begin section A here");
    Section section;
    section.name = {"A", at};
    section.span = at;
    open(std::move(section));
}

void SectionReader::open(Section section) {
    sections_.push_back(std::move(section));
    open_ = true;
    in_group_ = false;
    bars_in_section_ = 0;
    next_group_ = {};
    open_ending_.reset();
}

void SectionReader::finish() {
    if (!std::exchange(open_, false)) return;
    finish_group();
    auto& section = sections_.back();
    const Span* lost = next_group_.key     ? &next_group_.key->span
                       : next_group_.meter ? &next_group_.meter->span
                       : next_group_.tempo ? &next_group_.tempo->span
                                           : nullptr;
    if (lost != nullptr)
        sink_.emit(Code::line_before_nothing, *lost,
                   "This line holds for the changes row below it, but none follows in the section.");
    if (open_ending_) close_ending(section);
    match_slurs(section, sink_);
    next_group_ = {};
}

void SectionReader::close_ending(Section& section) {
    auto note = sink_.emit(Code::ending_unclosed, *open_ending_,
                           "This ending is not closed; a ] stands behind its last bar.");
    note.at(place_of_ending(section, *open_ending_));
    open_ending_.reset();
    if (section.groups.empty() || section.groups.back().rows.front().cells.empty()) return;
    auto& cell = section.groups.back().rows.front().cells.back();
    cell.signs.ending_ends = true;
    note.fix({cell.span.source, cell.span.end, cell.span.end}, " ]",
             "close it behind the section's last bar");
}

void SectionReader::begin_group(Section& section) {
    finish_group();
    section.groups.push_back(next_group_);
    section.groups.back().first_bar = bars_in_section_ + 1;
    in_group_ = true;
}

void SectionReader::finish_group() {
    if (in_group_) match_rows(sections_.back().groups.back(), sections_.back().name.text, sink_);
    in_group_ = false;
}

RowGroup* SectionReader::changing() {
    if (!open_) return nullptr;
    finish_group();
    return &next_group_;
}

void SectionReader::note_gap(bool gap) {
    if (!next_group_.key && !next_group_.meter && !next_group_.tempo) next_group_.gap_before = gap;
}

Place SectionReader::place() const {
    Place place;
    if (!open_) return place;
    place.section = sections_.back().name.text;
    place.bar = in_group_ ? sections_.back().groups.back().first_bar : bars_in_section_ + 1;
    return place;
}

void SectionReader::read_row(RowKind kind, const Words& word, LineParser& line, LineAtHand& at_hand) {
    if (!open_) return;
    auto& section = sections_.back();
    if (kind == RowKind::changes) begin_group(section);
    RowContext context{section.name.text, bars_in_section_ + 1, section.groups.size() <= 1, {}, 0, &limits_};
    if (in_group_) context.first_bar = section.groups.back().first_bar;
    context.open_ending = open_ending_;
    context.bars_left = kind == RowKind::changes ? limits_.bars - bars_ : limits_.bars;
    auto row = parse_row(kind, line, context);
    row.word = word.span;
    row.span = at_hand.span;
    if (kind == RowKind::changes) {
        open_ending_ = context.open_ending;
        bars_ += static_cast<int>(row.cells.size());
        bars_in_section_ += static_cast<int>(row.cells.size());
        row.trivia = at_hand.take();
        section.groups.back().rows.push_back(std::move(row));
    } else if (may_stand(kind, word, section)) {
        row.trivia = at_hand.take();
        section.groups.back().rows.push_back(std::move(row));
    }
    if (kind == RowKind::changes) next_group_ = {};
}

bool SectionReader::may_stand(RowKind kind, const Words& word, const Section& section) {
    if (!in_group_) {
        sink_
            .emit(Code::row_before_changes, word.span,
                  fmt::format("A {} row stands below the changes row of its bars.", row_word(kind)))
            .at(place());
        return false;
    }
    const auto& group = section.groups.back();
    const bool again =
        std::any_of(group.rows.begin(), group.rows.end(), [&](const Row& row) { return row.kind == kind; });
    if (!again || kind == RowKind::lyrics) return true;
    sink_
        .emit(Code::row_twice, word.span,
              fmt::format("The bars from {}:{} have a {} row already.", section.name.text, group.first_bar,
                          row_word(kind)))
        .at(place());
    return false;
}

}  // namespace relead::syntax
