#include "syntax/dump.h"

#include "base/fmt.h"
#include "syntax/cursor.h"
#include "syntax/print.h"

namespace relead::syntax {
namespace {

/// Writes one thing a line.
class Dumper {
public:
    explicit Dumper(bool with_spans) : with_spans_(with_spans) {}

    [[nodiscard]] std::string take() { return std::move(text_); }

    void tree(const TuneTree& tree) {
        comments("top", tree.top);
        header(tree.header);
        for (const auto& one : tree.sections) section(one);
        for (const auto& one : tree.plans) plan(one);
        comments("bottom", tree.bottom);
    }

private:
    void line(int depth, const std::string& what, Span span) {
        text_.append(static_cast<std::size_t>(depth) * 2, ' ').append(what);
        if (with_spans_) text_ += fmt::format("  @{}-{}", span.begin, span.end);
        text_ += '\n';
    }

    void comments(std::string_view where, const std::vector<Comment>& comments, int depth = 0) {
        for (const auto& one : comments)
            line(depth, fmt::format("comment {} {}{}", where, quote(one.text), one.gap_after ? " gap" : ""),
                 one.span);
    }

    template <class Line>
    void with_trivia(int depth, std::string_view word, const std::string& what, const Line& one) {
        line(depth, fmt::format("{} {}", word, what), one.span);
        comments("above", one.trivia.before, depth + 1);
        if (one.trivia.after) comments("behind", {*one.trivia.after}, depth + 1);
    }

    void text(std::string_view word, const std::optional<TextLine>& one) {
        if (one) with_trivia(0, word, quote(one->text.text), *one);
    }

    template <class Line>
    void printed(int depth, std::string_view word, const std::optional<Line>& one) {
        if (one) with_trivia(depth, word, print(*one), *one);
    }

    void header(const Header& header) {
        text("tune", header.tune);
        text("by", header.by);
        text("words", header.words);
        text("rights", header.rights);
        text("note", header.note);
        printed(0, "key", header.key);
        printed(0, "meter", header.meter);
        printed(0, "tempo", header.tempo);
        printed(0, "form", header.form);
        printed(0, "running", header.running);
    }

    void section(const Section& section) {
        with_trivia(
            0, "section",
            fmt::format("{}{}", section.name.text, section.title ? " " + quote(section.title->text) : ""),
            section);
        for (const auto& one : section.groups) group(one);
    }

    void group(const RowGroup& group) {
        text_ += fmt::format("  group from bar {}{}\n", group.first_bar, group.gap_before ? " gap" : "");
        printed(2, "key", group.key);
        printed(2, "meter", group.meter);
        printed(2, "tempo", group.tempo);
        for (const auto& one : group.rows) row(one);
    }

    void row(const Row& row) {
        with_trivia(2, "row", row_word(row.kind), row);
        if (row.pickup) cell(*row.pickup, "pickup");
        for (const auto& one : row.cells) cell(one, "cell");
    }

    void cell(const Cell& cell, std::string_view word) {
        auto what = fmt::format("{}{}", word, signs(cell.signs));
        if (cell.empty) what += " empty";
        line(3, what, cell.span);
        words("chord", cell.chords);
        words("note", cell.notes);
        words("lyric", cell.lyrics);
        words("mark", cell.marks);
    }

    template <class Word>
    void words(std::string_view name, const std::vector<Word>& words) {
        for (const auto& one : words) line(4, fmt::format("{} {}", name, print(one)), one.span);
    }

    static std::string signs(const BarSigns& signs) {
        std::string text;
        if (signs.repeat_begins) text += " repeat-begins";
        if (!signs.ending_begins.empty()) text += " ending";
        for (const auto playing : signs.ending_begins)
            text += playing == 0 ? " last" : fmt::format(" {}", playing);
        if (signs.ending_ends) text += " ending-ends";
        if (signs.repeat_ends > 0) text += fmt::format(" repeat-ends {}", signs.repeat_ends);
        if (signs.double_bar_after) text += " double-bar";
        return text;
    }

    void plan(const Plan& plan) {
        line(0, print_head(plan), plan.span);
        comments("above", plan.trivia.before, 1);
        if (plan.trivia.after) comments("behind", {*plan.trivia.after}, 1);
        for (const auto& one : plan.lines) with_trivia(1, "line", print(one), one);
    }

    bool with_spans_;
    std::string text_;
};

}  // namespace

std::string dump(const TuneTree& tree, bool with_spans) {
    Dumper dumper(with_spans);
    dumper.tree(tree);
    return dumper.take();
}

}  // namespace relead::syntax
