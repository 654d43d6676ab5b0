#include "syntax/parse_tune.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/fmt.h"
#include "syntax/keywords.h"
#include "syntax/line_feed.h"
#include "syntax/parse_head.h"
#include "syntax/parse_plan.h"
#include "syntax/section_reader.h"

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
        : source_(source),
          limits_(limits),
          sink_(limits),
          feed_(source, sink_),
          sections_(limits, sink_, tree_.sections) {}

    Outcome<TuneTree> read() {
        tree_.span = {source_.index(), 0, static_cast<std::uint32_t>(source_.bytes().size())};
        while (auto line = feed_.next()) read_line(*line);
        sections_.finish();
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
        sections_.note_gap(gap);
        trivia.after = line.comment;
        Cursor cursor(line.body, source_.index(), line.begin);
        const auto word = cursor.word("|,");
        LineParser parser(Lexer(cursor, line_mode(word.text, block_), sink_), sink_);
        at_hand_ = LineAtHand(
            {source_.index(), line.begin, line.begin + static_cast<std::uint32_t>(line.body.size())},
            std::move(trivia));
        read_body(word, parser, line);
        any_line_ = true;
        if (!at_hand_.taken()) keep_comments(at_hand_.take());
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
        const Span span = word.text.empty() ? at_hand_.span : word.span;
        const auto shown =
            word.text.empty() ? std::string("This line begins with no word that is known here.")
                              : fmt::format("“{}” begins no line {}.", word.text.substr(0, 60),
                                            block_ == Block::head ? "at the head of a tune" : "of a section");
        auto note = sink_.emit(Code::line_unknown, span, shown + did_you_mean(nearest));
        if (block_ == Block::section) note.at(sections_.place());
        if (!nearest.empty()) note.fix(word.span, std::string(nearest), fmt::format("write {}", nearest));
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
                head.has_key = true;
                return keep(head.key, parse_key(line), written);
            case HeadWord::meter:
                head.has_meter = true;
                return keep(head.meter, parse_meter(line), written);
            case HeadWord::tempo:
                head.has_tempo = true;
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
        read->span = at_hand_.span;
        read->trivia = at_hand_.take();
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
        sections_.finish();
        sections_.begin(line, at_hand_);
        block_ = Block::section;
    }

    void read_row(RowKind kind, const Words& word, LineParser& line) {
        if (block_ != Block::section) {
            // A section begins with changes: above them another row has none.
            const bool begins = block_ == Block::head && kind == RowKind::changes;
            sections_.begin_unnamed(word, at_hand_.span, begins);
            if (block_ == Block::head && !begins) return;
        }
        block_ = Block::section;
        sections_.read_row(kind, word, line, at_hand_);
    }

    void read_change(HeadWord word, LineParser& line) {
        const Words written{std::string(head_table[static_cast<std::size_t>(word)].word), at_hand_.span};
        auto* waiting = sections_.changing();
        if (waiting == nullptr) return;
        if (word == HeadWord::key) keep(waiting->key, parse_key(line), written);
        if (word == HeadWord::meter) keep(waiting->meter, parse_meter(line), written);
        if (word == HeadWord::tempo) keep(waiting->tempo, parse_tempo(line), written);
    }

    // ---- plans ----

    void read_plan(LineParser& line) {
        sections_.finish();
        block_ = Block::plan;
        skips_plan_ = static_cast<int>(tree_.plans.size()) >= limits_.plans;
        if (skips_plan_) {
            sink_.emit(Code::too_many_plans, at_hand_.span,
                       fmt::format("A tune has {} plans at most.", limits_.plans));
            return;
        }
        auto plan = parse_plan_head(line);
        plan.span = at_hand_.span;
        plan.trivia = at_hand_.take();
        tree_.plans.push_back(std::move(plan));
    }

    void read_plan_line(const FedLine& fed) {
        if (skips_plan_) return;
        LineParser line(Lexer(Cursor(fed.body, source_.index(), fed.begin), LineMode::plain, sink_), sink_);
        auto read = parse_plan_line(line);
        if (!read) return;
        auto& lines = tree_.plans.back().lines;
        const auto same =
            std::find_if(lines.begin(), lines.end(), [&](const PlanLine& l) { return l.kind == read->kind; });
        if (same != lines.end() && stands_once(read->kind)) {
            sink_.emit(Code::plan_line_twice, at_hand_.span,
                       fmt::format("The plan says {} already on line {}.", plan_phrase(read->kind),
                                   source_.line_at(same->span.begin)));
            return;
        }
        read->span = at_hand_.span;
        read->trivia = at_hand_.take();
        lines.push_back(std::move(*read));
    }

    const text::Source& source_;
    const Limits& limits_;
    text::Sink sink_;
    LineFeed feed_;
    TuneTree tree_;
    SectionReader sections_;
    Block block_ = Block::head;
    LineAtHand at_hand_;
    bool gap_ = false;  ///< a blank line stands above the line or its comments
    Trivia waiting_;    ///< comments that wait for the line below them
    bool any_line_ = false;
    bool skips_plan_ = false;  ///< beyond the limit
};

}  // namespace

Outcome<TuneTree> parse_tune(const text::Source& source, const Limits& limits) {
    return TuneReader(source, limits).read();
}

}  // namespace relead::syntax
