#include "syntax/parse_row.h"

#include <algorithm>
#include <utility>

#include "base/fmt.h"
#include "syntax/keywords.h"
#include "syntax/parse_cell.h"

namespace relead::syntax {
using text::Code;

namespace {

constexpr int most_playings = 99;

/// Numbers of `[1`, `[2,3`, `[1-3`, `[last`; nothing when they cannot be read.
std::optional<std::vector<int>> read_playings(std::string_view text) {
    std::vector<int> playings;
    while (true) {
        const auto comma = text.find(',');
        const auto part = text.substr(0, comma);
        const auto dash = part.find('-');
        const auto first = same_word(part, "last") ? 0 : parse_number(part.substr(0, dash)).value_or(-1);
        const auto last =
            dash == std::string_view::npos ? first : parse_number(part.substr(dash + 1)).value_or(-1);
        const bool is_last = first == 0 && same_word(part, "last");
        if (!is_last && (first < 1 || last < first || last > most_playings)) return std::nullopt;
        for (int playing = first; playing <= last; ++playing) playings.push_back(playing);
        if (comma == std::string_view::npos) break;
        text.remove_prefix(comma + 1);
    }
    // Ascending, `last` at the end.
    const auto order = [](int playing) { return playing == 0 ? most_playings + 1 : playing; };
    std::sort(playings.begin(), playings.end(), [&](int a, int b) { return order(a) < order(b); });
    if (std::adjacent_find(playings.begin(), playings.end()) != playings.end()) return std::nullopt;
    return playings;
}

/// Reads cells and the signs between them, to the end of the line.
class RowReader {
public:
    RowReader(RowKind kind, LineParser& line, RowContext& context) : line_(line), context_(context) {
        row_.kind = kind;
    }

    Row read() {
        row_.span = line_.peek().span;
        read_pickup();
        if (line_.at_end()) {
            complain_of_no_bars();
            return std::move(row_);
        }
        while (true) {
            read_signs();
            if (line_.at_end() || over_limit()) break;
            read_cell();
        }
        finish();
        return std::move(row_);
    }

private:
    /// What was read since the last cell.
    struct Gap {
        bool has_bar = false;
        bool has_double = false;
        bool closed_after_bar = false;  ///< ":| ]"
        bool closed = false;            ///< `]`
        bool opened = false;            ///< `[1`
        BarSigns next;                  ///< for the cell that follows
        [[nodiscard]] bool separates() const { return has_bar || opened; }
    };

    [[nodiscard]] bool is_changes() const { return row_.kind == RowKind::changes; }
    [[nodiscard]] Cell* before() { return row_.cells.empty() ? nullptr : &row_.cells.back(); }
    [[nodiscard]] int next_bar() const { return context_.first_bar + static_cast<int>(row_.cells.size()); }
    [[nodiscard]] Place here() const {
        return place_of(context_, row_.cells.empty() ? next_bar() : next_bar() - 1);
    }

    void read_cell_content(Cell& cell, const Place& place) {
        cell.span = {line_.peek().span.source, line_.peek().span.begin, line_.peek().span.begin};
        const CellContext context{row_.kind, place, context_.limits, &ending_signs_};
        switch (row_.kind) {
            case RowKind::changes:
            case RowKind::ossia:
            case RowKind::soloist:
                parse_chord_cell(line_, context, cell);
                break;
            case RowKind::melody:
            case RowKind::long_notes:
            case RowKind::bass:
            case RowKind::hits:
                parse_note_cell(line_, context, cell);
                break;
            case RowKind::lyrics:
                parse_lyric_cell(line_, context, cell);
                break;
            case RowKind::marks:
                parse_mark_cell(line_, context, cell);
                break;
        }
    }

    void read_pickup() {
        if (line_.at_end() || at_cell_end(line_, row_.kind)) return;
        Cell cell;
        read_cell_content(cell, place_of(context_, 0));
        if (cell.empty || line_.at_end()) return;
        if (!context_.first_group)
            line_.sink()
                .emit(Code::pickup_not_first, cell.span,
                      fmt::format(
                          "Only the first row group of section {} can have a pickup. Is a bar sign missing "
                          "after the row's word?",
                          context_.section))
                .at(place_of(context_, context_.first_bar))
                .fix({cell.span.source, cell.span.begin, cell.span.begin}, "| ", "begin a bar here");
        else
            row_.pickup = std::move(cell);
    }

    void complain_of_no_bars() {
        row_.span.end = line_.peek().span.end;
        line_.sink()
            .emit(Code::row_without_bars, row_.span,
                  fmt::format(
                      "The {} row of section {} has no bars; a bar sign | stands before and after each bar.",
                      row_word(row_.kind), context_.section))
            .at(place_of(context_, context_.first_bar));
    }

    bool over_limit() {
        if (static_cast<int>(row_.cells.size()) < context_.bars_left) return false;
        over_ = true;
        if (is_changes())
            line_
                .complain(Code::too_many_bars,
                          fmt::format("The tune has more than {} bars; the rest is left out.",
                                      context_.limits->bars))
                .at(here());
        line_.lexer().skip_to_end();
        return true;
    }

    void read_cell() {
        if (!gap_.separates()) {
            const auto at = line_.peek().span.begin;
            line_.complain(Code::ending_misplaced, "After the ] of an ending a bar sign is missing.")
                .at(here())
                .fix({line_.peek().span.source, at, at}, "| ", "put a bar sign here");
        }
        Cell cell;
        cell.signs = std::move(gap_.next);
        gap_ = {};
        read_cell_content(cell, place_of(context_, next_bar()));
        row_.cells.push_back(std::move(cell));
    }

    void add_empty_cell() {
        const Span here_span{line_.peek().span.source, line_.peek().span.begin, line_.peek().span.begin};
        Cell cell;
        cell.empty = true;
        cell.span = here_span;
        cell.signs = std::move(gap_.next);
        const auto place = place_of(context_, next_bar());
        auto note = line_.sink().emit(
            Code::cell_empty, line_.peek().span,
            fmt::format("{}:{} is blank in the {} row.", context_.section, place.bar, row_word(row_.kind)));
        note.at(place);
        if (is_changes())
            note.fix(here_span, "% ", "repeat the bar before").fix(here_span, "N.C. ", "no chord");
        else
            note.fix(here_span, ". ", "nothing in this bar");
        row_.cells.push_back(std::move(cell));
        gap_ = {};
    }

    void read_signs() {
        while (static_cast<int>(row_.cells.size()) <= context_.bars_left) {
            const auto kind = line_.peek().kind;
            if (kind == Token::Kind::bar)
                read_bar();
            else if (kind == Token::Kind::close && (is_chord_row(row_.kind) || ending_signs_))
                read_close();
            else if (kind == Token::Kind::open &&
                     (is_chord_row(row_.kind) || !begins_tuplet(line_, ending_signs_)))
                read_open();
            else
                return;
        }
    }

    [[nodiscard]] bool token_is_plain() const { return line_.peek().raw == "|"; }

    void read_bar() {
        const auto sign = read_bar_sign(line_.peek().raw);
        // ":| ||", "|| |:", ":| |:" and ":| ] |" are one bar line.
        const bool adds = sign.repeat_begins || (sign.is_double && !gap_.has_double);
        const bool plain = std::exchange(gap_.closed_after_bar, false) && token_is_plain();
        const bool joins =
            is_changes() && (adds || plain) && !sign.repeat_ends && !gap_.next.repeat_begins && !gap_.opened;
        if (gap_.separates() && !joins) add_empty_cell();
        gap_.has_bar = true;
        gap_.has_double |= sign.is_double;
        const auto token = line_.next();
        if (!is_changes()) {
            if (token.raw != "|") complain_of_sign(token, "|");
            return;
        }
        gap_.next.repeat_begins |= sign.repeat_begins;
        if (sign.is_double && before() != nullptr) before()->signs.double_bar_after = true;
        if (sign.repeat_ends) end_repeat(token, sign);
    }

    void end_repeat(const Token& token, const BarSign& sign) {
        if (before() == nullptr) {
            line_.sink()
                .emit(Code::repeat_misplaced, token.span,
                      "A repeat ends here before any bar of its row; put :| at the end of the row before.")
                .at(here());
            return;
        }
        const bool counted = token.raw.find('*') != std::string_view::npos;
        const auto times = counted ? parse_number(sign.times).value_or(0) : 2;
        before()->signs.repeat_ends = std::clamp(times, 2, most_playings);
        before()->signs.repeat_span = token.span;
        if (times < 2 || times > most_playings)
            line_.sink()
                .emit(Code::repeat_count, token.span,
                      "The number after :|* says how often the bars are played in all, 2 to 99.")
                .at(here())
                .fix(token.span, ":|", "play them twice");
    }

    void complain_of_sign(const Token& token, std::string instead) {
        if (sign_told_) return;
        sign_told_ = true;
        Span where = token.span;  // of "] [2" both
        if (token.kind == Token::Kind::close && line_.peek().kind == Token::Kind::open)
            where.end = line_.peek().span.end;
        line_.sink()
            .emit(Code::sign_in_other_row, token.span,
                  fmt::format(
                      "Repeats and endings stand in the changes row only; the {} row has plain bar signs.",
                      row_word(row_.kind)))
            .at(here())
            .fix(where, instead, instead.empty() ? "take the sign out" : "a plain bar sign");
    }

    void read_close() {
        const auto token = line_.next();
        if (!is_changes()) {
            complain_of_sign(token, line_.peek().kind == Token::Kind::bar ? "" : "|");
            gap_.closed = true;
        } else if (before() == nullptr || !context_.open_ending) {
            line_.sink()
                .emit(Code::ending_misplaced, token.span, "This ] closes an ending, but none is open here.")
                .at(here())
                .fix(token.span, "", "take the ] out");
            gap_.closed = true;
        } else {
            before()->signs.ending_ends = true;
            context_.open_ending.reset();
            gap_.closed = true;
            gap_.closed_after_bar = gap_.has_bar;
        }
    }

    void read_open() {
        const auto token = line_.next();
        const bool separated = gap_.separates() || gap_.closed;
        gap_.opened = true;
        ending_signs_ = true;
        if (!is_changes()) return complain_of_sign(token, gap_.has_bar ? "" : "|");
        const Span at{token.span.source, token.span.begin, token.span.begin};
        if (!separated)
            line_.sink()
                .emit(Code::ending_misplaced, token.span, "An ending begins at a bar sign.")
                .at(here())
                .fix(at, "| ", "put a bar sign here");
        if (context_.open_ending) {
            line_.sink()
                .emit(Code::ending_unclosed, *context_.open_ending,
                      fmt::format("This ending is not closed before {} begins.", token.raw))
                .at(here())
                .fix(at, "] ", "close it here");
            if (before() != nullptr) before()->signs.ending_ends = true;
        }
        auto playings = read_playings(token.raw.substr(1));
        if (!playings)
            line_.sink()
                .emit(Code::ending_unreadable, token.span,
                      fmt::format("“{}” begins no ending; endings are written [1, [2,3 or [last.", token.raw))
                .at(place_of(context_, next_bar()));
        gap_.next.ending_begins = playings.value_or(std::vector<int>{1});
        gap_.next.ending_span = token.span;
        context_.open_ending = token.span;
    }

    void finish() {
        const Span end{line_.peek().span.source, line_.peek().span.begin, line_.peek().span.begin};
        row_.span.end = end.end;
        if (gap_.opened && is_changes()) {
            line_.sink()
                .emit(Code::ending_misplaced, gap_.next.ending_span,
                      "This ending begins, but no bar follows in its row.")
                .at(here());
            context_.open_ending.reset();
        }
        if (gap_.next.repeat_begins)
            line_.sink()
                .emit(
                    Code::repeat_misplaced, end,
                    "A repeat begins here, but no bar follows; put |: at the start of the next changes row.")
                .at(here());
        if (!gap_.has_bar && !gap_.opened && !over_)
            line_.sink()
                .emit(Code::row_not_closed, end,
                      fmt::format("The {} row ends without a bar sign.", row_word(row_.kind)))
                .at(here())
                .fix(end, " |", "close the last bar");
    }

    LineParser& line_;
    RowContext& context_;
    Row row_;
    Gap gap_;
    bool ending_signs_ = false;
    bool sign_told_ = false;
    bool over_ = false;
};

}  // namespace

Place place_of(const RowContext& context, int bar) {
    Place place;
    place.section = context.section;
    place.bar = bar;
    return place;
}

Row parse_row(RowKind kind, LineParser& line, RowContext& context) {
    return RowReader(kind, line, context).read();
}

}  // namespace relead::syntax
