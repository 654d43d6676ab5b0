#include "syntax/tidy.h"

#include <algorithm>

#include "syntax/cursor.h"
#include "syntax/print.h"
#include "text/source.h"

namespace relead::syntax {
namespace {

constexpr int word_width = 8;  ///< first words of the head and of rows, with a blank

std::string padded(std::string text, int width) {
    const auto missing = width - text::display_width(text);
    if (missing > 0) text.append(static_cast<std::size_t>(missing), ' ');
    return text;
}

/// Collects lines; blank lines never double and never begin the text.
class Page {
public:
    void line(const std::string& text, const Trivia& trivia, std::string_view indent = "") {
        comments(trivia.before, indent);
        text_.append(indent).append(text);
        while (!text_.empty() && text_.back() == ' ') text_.pop_back();
        if (trivia.after) text_ += "  " + comment(*trivia.after);
        text_ += '\n';
    }
    void comments(const std::vector<Comment>& comments, std::string_view indent = "") {
        for (const auto& one : comments) {
            text_.append(indent).append(comment(one)) += '\n';
            if (one.gap_after) gap();
        }
    }
    void gap() {
        if (!text_.empty() && (text_.size() < 2 || text_.substr(text_.size() - 2) != "\n\n")) text_ += '\n';
    }
    [[nodiscard]] std::string take() { return std::move(text_); }

private:
    static std::string comment(const Comment& one) { return one.text.empty() ? "--" : "-- " + one.text; }
    std::string text_;
};

void print_text(Page& page, std::string_view word, const std::optional<TextLine>& line) {
    if (line) page.line(padded(std::string(word), word_width) + quote(line->text.text), line->trivia);
}

template <class Line>
void print_line(Page& page, std::string_view word, const std::optional<Line>& line) {
    if (line) page.line(padded(std::string(word), word_width) + print(*line), line->trivia);
}

void print_header(Page& page, const Header& header) {
    print_text(page, "tune", header.tune);
    print_text(page, "by", header.by);
    print_text(page, "words", header.words);
    print_text(page, "rights", header.rights);
    print_line(page, "key", header.key);
    print_line(page, "meter", header.meter);
    print_line(page, "tempo", header.tempo);
    print_line(page, "form", header.form);
    print_line(page, "running", header.running);
    print_text(page, "note", header.note);
}

/// A row group set in columns: the bar signs of all rows stand right under each other.
class Columns {
public:
    explicit Columns(const RowGroup& group) {
        const auto& changes = group.rows.front();
        const auto bars = changes.cells.size();
        for (std::size_t i = 0; i <= bars; ++i)
            signs_.push_back(print_signs(i == 0 ? nullptr : &changes.cells[i - 1],
                                         i == bars ? nullptr : &changes.cells[i]));
        widths_.assign(bars, 0);
        for (const auto& row : group.rows) {
            if (row.pickup) pickup_ = std::max(pickup_, text::display_width(print_cell(*row.pickup)));
            for (std::size_t i = 0; i < bars; ++i)
                widths_[i] = std::max(widths_[i], text::display_width(print_cell(row.cells[i])));
        }
    }

    [[nodiscard]] std::string line(const Row& row) const {
        std::string text = padded(row_word(row.kind), word_width);
        if (pickup_ > 0) text += padded(row.pickup ? print_cell(*row.pickup) : "", pickup_) + " ";
        for (std::size_t i = 0; i < signs_.size(); ++i) {
            text += padded(row.kind == RowKind::changes ? signs_[i] : "|", text::display_width(signs_[i]));
            if (i == widths_.size()) break;
            text += " " + padded(print_cell(row.cells[i]), widths_[i]) + " ";
        }
        return text;
    }

private:
    int pickup_ = 0;
    std::vector<std::string> signs_;
    std::vector<int> widths_;
};

void print_group(Page& page, const RowGroup& group) {
    if (group.gap_before) page.gap();
    print_line(page, "key", group.key);
    print_line(page, "meter", group.meter);
    print_line(page, "tempo", group.tempo);
    const Columns columns(group);
    for (const auto& row : group.rows) page.line(columns.line(row), row.trivia);
}

void print_section(Page& page, const Section& section) {
    page.gap();
    auto head = "section " + section.name.text;
    if (section.title) head += " " + quote(section.title->text);
    page.line(head, section.trivia);
    for (const auto& group : section.groups) print_group(page, group);
}

void print_plan(Page& page, const Plan& plan) {
    page.gap();
    page.line(print_head(plan), plan.trivia);
    for (const auto& line : plan.lines) page.line(print(line), line.trivia, "  ");
}

}  // namespace

std::string tidy(const TuneTree& tree) {
    Page page;
    page.comments(tree.top);
    print_header(page, tree.header);
    for (const auto& section : tree.sections) print_section(page, section);
    for (const auto& plan : tree.plans) print_plan(page, plan);
    if (!tree.bottom.empty()) page.gap();
    page.comments(tree.bottom);
    return page.take();
}

}  // namespace relead::syntax
