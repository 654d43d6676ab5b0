#include "syntax/parse_tune.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/fmt.h"
#include "syntax/check_section.h"
#include "syntax/keywords.h"
#include "syntax/line_feed.h"
#include "syntax/parse_head.h"
#include "syntax/parse_plan.h"
#include "syntax/parse_row.h"

namespace relead::syntax {
using text::Code;

namespace {

constexpr Keyword<RowKind> row_table[] = {
#define RELEAD_ROW(name, word, mode) {word, RowKind::name},
#include "syntax/rows.def"
#undef RELEAD_ROW
};

enum class HeadWord { tune, by, words, rights, note, key, meter, tempo, form, running };
constexpr Keyword<HeadWord> head_table[] = {
    {"tune", HeadWord::tune},       {"by", HeadWord::by},       {"words", HeadWord::words},
    {"rights", HeadWord::rights},   {"note", HeadWord::note},   {"key", HeadWord::key},
    {"meter", HeadWord::meter},     {"tempo", HeadWord::tempo}, {"form", HeadWord::form},
    {"running", HeadWord::running},
};

bool may_change_in_section(HeadWord word) {
    return word == HeadWord::key || word == HeadWord::meter || word == HeadWord::tempo;
}

/// Reads line after line into the tree; a line is given to the block that it stands in.
class TuneReader {
public:
    TuneReader(const text::Source& source, const Limits& limits)
        : source_(source), limits_(limits), sink_(limits), feed_(source, sink_) {}

    Outcome<TuneTree> read() {
        tree_.span = {source_.index(), 0, static_cast<std::uint32_t>(source_.bytes().size())};
        while (auto line = feed_.next()) read_line(*line);
        finish_section();
        check_title();
        tree_.bottom = std::move(waiting_.before);
        if (!tree_.bottom.empty()) tree_.bottom.back().gap_after = false;
        Outcome<TuneTree> outcome;
        outcome.value = std::move(tree_);
        outcome.diagnostics = sink_.take();
        drop_repeated(outcome.diagnostics);
        return outcome;
    }

private:
    /// Looking ahead may read the same quoted text twice.
    static void drop_repeated(Diagnostics& diagnostics) {
        const auto same = [](const Diagnostic& a, const Diagnostic& b) {
            return a.code == b.code && a.span == b.span && a.sentence == b.sentence;
        };
        diagnostics.erase(std::unique(diagnostics.begin(), diagnostics.end(), same), diagnostics.end());
    }

    // ---- lines and comments ----

    void read_line(const FedLine& line) {
        if (line.body.empty()) return read_blank_or_comment(line);
        if (!any_line_) {
            tree_.top = std::move(waiting_.before);
            waiting_.before.clear();
        }
        Trivia trivia = std::move(waiting_);
        waiting_ = {};
        const bool gap = std::exchange(gap_, false);
        if (is_first_of_group()) next_group_.gap_before = gap;
        trivia.after = line.comment;
        Cursor cursor(line.body, source_.index(), line.begin);
        const auto word = cursor.word("|,");
        LineParser parser(Lexer(cursor, line_mode(word.text, block_), sink_), sink_);
        kept_ = false;
        trivia_ = &trivia;
        span_ = {source_.index(), line.begin, line.begin + static_cast<std::uint32_t>(line.body.size())};
        read_body(word, parser, line);
        any_line_ = true;
        if (!kept_) keep_comments(std::move(trivia));
    }

    void read_blank_or_comment(const FedLine& line) {
        if (line.comment)
            waiting_.before.push_back(*line.comment);
        else if (waiting_.before.empty())
            gap_ = true;
        else
            waiting_.before.back().gap_after = true;
    }

    /// The line went lost, its comments wait for the next one.
    void keep_comments(Trivia trivia) {
        if (trivia.after) trivia.before.push_back(*trivia.after);
        waiting_.before = std::move(trivia.before);
    }

    /// Hands the line's comments to the value made of it.
    Trivia take_trivia() {
        kept_ = true;
        return std::move(*trivia_);
    }

    // ---- which line it is ----

    void read_body(const Words& word, LineParser& line, const FedLine& fed) {
        if (same_word(word.text, "section")) return read_section(line);
        if (same_word(word.text, "plan")) return read_plan(line);
        if (block_ == Block::plan && begins_plan_line(word.text, fed.body)) return read_plan_line(fed);
        if (const auto* row = find_keyword(row_table, word.text)) return read_row(row->value, word, line);
        if (const auto* head = find_keyword(head_table, word.text)) return read_head(head->value, word, line);
        complain_of_line(word);
    }

    /// Row words begin no plan line, but `melody` does unless bars follow.
    static bool begins_plan_line(const std::string& word, std::string_view body) {
        if (same_word(word, "melody")) return body.find('|') == std::string_view::npos;
        return find_keyword(row_table, word) == nullptr && find_keyword(head_table, word) == nullptr;
    }

    void complain_of_line(const Words& word) {
        std::vector<std::string_view> words{"section", "plan"};
        for (const auto& row : head_table) words.push_back(row.word);
        if (block_ == Block::section)
            for (const auto& row : row_table) words.push_back(row.word);
        const auto nearest = nearest_word(word.text, words);
        const Span span = word.text.empty() ? span_ : word.span;
        const auto shown =
            word.text.empty() ? std::string("This line begins with no word that is known here.")
                              : fmt::format("“{}” begins no line {}.", word.text.substr(0, 60),
                                            block_ == Block::head ? "at the head of a tune" : "of a section");
        auto note = sink_.emit(Code::line_unknown, span, shown + did_you_mean(nearest));
        note.at(place_of_line());
        if (!nearest.empty()) note.fix(word.span, std::string(nearest), fmt::format("write {}", nearest));
    }

    [[nodiscard]] Place place_of_line() const {
        Place place;
        if (block_ != Block::section || tree_.sections.empty()) return place;
        place.section = tree_.sections.back().name.text;
        place.bar = in_group_ ? tree_.sections.back().groups.back().first_bar : bars_in_section_ + 1;
        return place;
    }

    // ---- head ----

    void read_head(HeadWord word, const Words& written, LineParser& line) {
        const bool changeable = may_change_in_section(word);
        if (block_ == Block::section && changeable) return read_change(word, line);
        if (block_ != Block::head)
            sink_.emit(
                changeable ? Code::line_outside_section : Code::header_late, written.span,
                changeable
                    ? fmt::format("A {} line stands at the head of the tune or in a section, not in a plan.",
                                  written.text)
                    : fmt::format("The {} line belongs to the head of the tune, above the first section.",
                                  written.text));
        if (block_ != Block::head && changeable) return;
        auto& head = tree_.header;
        switch (word) {
            case HeadWord::tune:
                if (any_line_ && !head.tune)
                    sink_.emit(Code::tune_not_first, written.span,
                               "The tune line with the title comes first.");
                return keep(head.tune, read_text(line, "tune"), written);
            case HeadWord::by:
                return keep(head.by, read_text(line, "by"), written);
            case HeadWord::words:
                return keep(head.words, read_text(line, "words"), written);
            case HeadWord::rights:
                return keep(head.rights, read_text(line, "rights"), written);
            case HeadWord::note:
                return keep(head.note, read_text(line, "note"), written);
            case HeadWord::key:
                return keep(head.key, parse_key(line), written);
            case HeadWord::meter:
                return keep(head.meter, parse_meter(line), written);
            case HeadWord::tempo:
                return keep(head.tempo, parse_tempo(line), written);
            case HeadWord::form:
                return keep(head.form, parse_form(line), written);
            case HeadWord::running:
                return keep(head.running, parse_running(line), written);
        }
    }

    static std::optional<TextLine> read_text(LineParser& line, std::string_view word) {
        auto text = line.quoted_text(word);
        if (!text) return std::nullopt;
        line.expect_end(word);
        TextLine result;
        result.text = std::move(*text);
        return result;
    }

    template <class Line>
    void keep(std::optional<Line>& place, std::optional<Line> read, const Words& written) {
        if (!read) return;
        if (place) {
            sink_.emit(Code::header_twice, written.span,
                       fmt::format("A second {} line; the one on line {} counts.", written.text,
                                   source_.line_at(place->span.begin)));
            return;
        }
        read->span = span_;
        read->trivia = take_trivia();
        place = std::move(read);
    }

    void check_title() {
        if (tree_.header.tune) return;
        const Span start{source_.index(), 0, 0};
        sink_
            .emit(Code::tune_missing, start,
                  "The text has no tune line; it gives the title: tune \"Harbour Lights\".")
            .fix(start, "tune \"Untitled\"\n", "call it Untitled");
    }

    // ---- sections and rows ----

    void read_section(LineParser& line) {
        finish_section();
        if (static_cast<int>(tree_.sections.size()) >= limits_.sections) {
            sink_.emit(Code::too_many_sections, span_,
                       fmt::format("A tune has {} sections at most.", limits_.sections));
            block_ = Block::section;
            skipping_ = true;
            return;
        }
        Section section;
        section.span = span_;
        if (auto name = line.name())
            section.name = std::move(*name);
        else
            line.complain(Code::section_unnamed,
                          "The section has no name; write one word, then the printed title if "
                          "there is one: section B \"Bridge\".");
        if (line.peek().kind == Token::Kind::quoted) section.title = line.quoted_text("section");
        line.expect_end("section");
        section.trivia = take_trivia();
        open_section(std::move(section));
    }

    void open_section(Section section) {
        tree_.sections.push_back(std::move(section));
        block_ = Block::section;
        skipping_ = false;
        in_group_ = false;
        bars_in_section_ = 0;
        next_group_ = {};
        open_ending_.reset();
    }

    void finish_section() {
        if (block_ != Block::section || skipping_) return;
        finish_group();
        auto& section = tree_.sections.back();
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

    void close_ending(Section& section) {
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

    static Place place_of_ending(const Section& section, Span ending) {
        Place place;
        place.section = section.name.text;
        for (const auto& group : section.groups) {
            const auto& cells = group.rows.front().cells;
            for (std::size_t i = 0; i < cells.size(); ++i)
                if (cells[i].signs.ending_span == ending) place.bar = group.first_bar + static_cast<int>(i);
        }
        return place;
    }

    void finish_group() {
        if (in_group_)
            match_rows(tree_.sections.back().groups.back(), tree_.sections.back().name.text, sink_);
        in_group_ = false;
    }

    void read_change(HeadWord word, LineParser& line) {
        if (skipping_) return;
        finish_group();
        const Words written{std::string(head_table[static_cast<std::size_t>(word)].word), span_};
        if (word == HeadWord::key) keep(next_group_.key, parse_key(line), written);
        if (word == HeadWord::meter) keep(next_group_.meter, parse_meter(line), written);
        if (word == HeadWord::tempo) keep(next_group_.tempo, parse_tempo(line), written);
    }

    [[nodiscard]] bool is_first_of_group() const {
        return !next_group_.key && !next_group_.meter && !next_group_.tempo;
    }

    /// Rows at the head open section A by themselves; in a plan they are lost.
    bool outside_section(const Words& word) {
        if (block_ == Block::section) return skipping_;
        const Span at{span_.source, span_.begin, span_.begin};
        auto note = sink_.emit(
            Code::line_outside_section, word.span,
            fmt::format("The {} row stands in no section; a section line comes first.", word.text));
        if (block_ == Block::head) note.fix(at, "section A\n", "begin section A here");
        Section section;
        section.name = {"A", at};
        section.span = at;
        if (block_ == Block::plan) skipping_ = true;
        if (block_ == Block::head) open_section(std::move(section));
        block_ = Block::section;
        return skipping_;
    }

    void read_row(RowKind kind, const Words& word, LineParser& line) {
        if (outside_section(word)) return;
        auto& section = tree_.sections.back();
        if (kind == RowKind::changes) begin_group(section);
        RowContext context{section.name.text, bars_in_section_ + 1, section.groups.size() <= 1, {}, 0,
                           &limits_};
        if (in_group_) context.first_bar = section.groups.back().first_bar;
        context.open_ending = open_ending_;
        context.bars_left = kind == RowKind::changes ? limits_.bars - bars_ : limits_.bars;
        auto row = parse_row(kind, line, context);
        row.word = word.span;
        row.span = span_;
        if (kind == RowKind::changes) {
            open_ending_ = context.open_ending;
            bars_ += static_cast<int>(row.cells.size());
            bars_in_section_ += static_cast<int>(row.cells.size());
            row.trivia = take_trivia();
            section.groups.back().rows.push_back(std::move(row));
        } else if (may_stand(kind, word, section)) {
            row.trivia = take_trivia();
            section.groups.back().rows.push_back(std::move(row));
        }
        if (kind == RowKind::changes) next_group_ = {};
    }

    void begin_group(Section& section) {
        finish_group();
        section.groups.push_back(next_group_);
        section.groups.back().first_bar = bars_in_section_ + 1;
        in_group_ = true;
    }

    bool may_stand(RowKind kind, const Words& word, const Section& section) {
        if (!in_group_) {
            sink_
                .emit(Code::row_before_changes, word.span,
                      fmt::format("A {} row stands below the changes row of its bars.", row_word(kind)))
                .at(place_of_line());
            return false;
        }
        const auto& group = section.groups.back();
        const bool again = std::any_of(group.rows.begin(), group.rows.end(),
                                       [&](const Row& row) { return row.kind == kind; });
        if (!again || kind == RowKind::lyrics) return true;
        sink_
            .emit(Code::row_twice, word.span,
                  fmt::format("The bars from {}:{} have a {} row already.", section.name.text,
                              group.first_bar, row_word(kind)))
            .at(place_of_line());
        return false;
    }

    // ---- plans ----

    void read_plan(LineParser& line) {
        finish_section();
        block_ = Block::plan;
        skipping_ = static_cast<int>(tree_.plans.size()) >= limits_.plans;
        if (skipping_) {
            sink_.emit(Code::too_many_plans, span_,
                       fmt::format("A tune has {} plans at most.", limits_.plans));
            return;
        }
        auto plan = parse_plan_head(line);
        plan.span = span_;
        plan.trivia = take_trivia();
        tree_.plans.push_back(std::move(plan));
    }

    void read_plan_line(const FedLine& fed) {
        if (skipping_) return;
        LineParser line(Lexer(Cursor(fed.body, source_.index(), fed.begin), LineMode::plain, sink_), sink_);
        auto read = parse_plan_line(line);
        if (!read) return;
        auto& lines = tree_.plans.back().lines;
        const auto same =
            std::find_if(lines.begin(), lines.end(), [&](const PlanLine& l) { return l.kind == read->kind; });
        if (same != lines.end() && stands_once(read->kind)) {
            sink_.emit(Code::plan_line_twice, span_,
                       fmt::format("The plan says {} already on line {}.", plan_phrase(read->kind),
                                   source_.line_at(same->span.begin)));
            return;
        }
        read->span = span_;
        read->trivia = take_trivia();
        lines.push_back(std::move(*read));
    }

    const text::Source& source_;
    const Limits& limits_;
    text::Sink sink_;
    LineFeed feed_;
    TuneTree tree_;
    Block block_ = Block::head;
    bool gap_ = false;          ///< a blank line stands above the line or its comments
    Trivia waiting_;            ///< comments that wait for the line below them
    Trivia* trivia_ = nullptr;  ///< of the line being read
    Span span_;                 ///< of the line being read, without its comment
    bool kept_ = false;         ///< the line being read went into the tree
    bool any_line_ = false;
    bool skipping_ = false;  ///< in a section or plan beyond the limit
    bool in_group_ = false;
    RowGroup next_group_;  ///< key, meter and tempo that wait for their changes row
    std::optional<Span> open_ending_;
    int bars_in_section_ = 0;
    int bars_ = 0;
};

}  // namespace

Outcome<TuneTree> parse_tune(const text::Source& source, const Limits& limits) {
    return TuneReader(source, limits).read();
}

}  // namespace relead::syntax
