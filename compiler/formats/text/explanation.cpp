#include "formats/text/explanation.h"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "base/fmt.h"
#include "formats/text/columns.h"
#include "text/source.h"

namespace relead::formats::text {

namespace {

using report::ExplainedChord;

/// Cells of one character each, filled from the left.
class Canvas {
public:
    void put(std::size_t row, std::size_t column, std::string_view character) {
        if (rows_.size() <= row) rows_.resize(row + 1);
        if (rows_[row].size() <= column) rows_[row].resize(column + 1, " ");
        rows_[row][column] = character;
    }
    void append(std::size_t row, std::string_view words) {
        if (rows_.size() <= row) rows_.resize(row + 1);
        rows_[row].emplace_back(words);
    }
    std::string text() const {
        std::string all;
        for (const auto& row : rows_) {
            std::string line;
            for (const auto& cell : row) line += cell;
            line.erase(line.find_last_not_of(' ') + 1);
            all += line + "\n";
        }
        return all;
    }

private:
    std::vector<std::vector<std::string>> rows_;
};

struct Column {
    const ExplainedChord* chord = nullptr;
    std::size_t at = 0;  // where its symbol begins
};

/// An arrow inside one line of bars, or out of it.
struct Arrow {
    std::size_t from = 0;  // column numbers
    std::size_t to = 0;    // one past the last column: leads out
    std::size_t row = 0;
    bool prolongs = false;

    [[nodiscard]] std::size_t left() const { return std::min(from, to); }
    [[nodiscard]] std::size_t right() const { return std::max(from, to); }
};

std::string bar_name(const ExplainedChord& chord) {
    return chord.bar > 0 ? fmt::format("{}:{}", chord.section, chord.bar)
                         : fmt::format("{} pickup", chord.section);
}

class Printer {
public:
    Printer(const report::Explanation& explanation, const TextStyle& style)
        : explanation_(explanation), style_(style) {}

    std::string run() {
        std::string text = heading();
        const auto& chords = explanation_.chords;
        std::string section, key;
        for (std::size_t i = 0; i < chords.size();) {
            text += '\n';
            if (chords[i].section != section) {
                section = chords[i].section;
                text += fmt::format("section {}\n", section);
            }
            const auto end = line_end(i);
            for (std::size_t k = i; k < end; ++k) {
                if (chords[k].key == key) continue;
                text += fmt::format("  {} from {}\n", chords[k].key, bar_name(chords[k]));
                key = chords[k].key;
            }
            text += line(i, end);
            i = end;
        }
        if (!explanation_.exact)
            text += fmt::format("\nA long tune: arrows were chosen among spans of {} chords.\n",
                                explanation_.window);
        return text + fmt::format("\nGuide tones over one chorus: {}.\n",
                                  report::guide_sentence(explanation_.guide_line));
    }

private:
    std::string heading() const {
        std::string text = fmt::format("Key, heard in the chords: {}\n", explanation_.estimated);
        if (explanation_.given)
            text = fmt::format("Key: {} (heard in the chords: {})\n", *explanation_.given,
                               explanation_.estimated);
        if (explanation_.modal) text = fmt::format("Key: {}\n", *explanation_.given);
        if (explanation_.blues) text += "A blues: I7 and IV7 are at rest.\n";
        return text +
               "An arrow leads from each chord to the one that it prepares; a double arrow says that it "
               "prolongs it.\n";
    }

    std::size_t cell_width(const ExplainedChord& chord) const {
        return static_cast<std::size_t>(std::max(relead::text::display_width(chord.symbol),
                                                 relead::text::display_width(chord.numeral))) +
               2;
    }

    /// Whole bars of one section, four at most, as many as the width holds.
    std::size_t line_end(std::size_t begin) const {
        const auto& chords = explanation_.chords;
        const auto& first = chords[begin];
        const int last_bar = first.bar == 0 ? 4 : first.bar + (4 - (first.bar - 1) % 4) - 1;
        std::size_t end = begin, whole = begin, width = 2;
        for (; end < chords.size() && chords[end].section == first.section && chords[end].bar <= last_bar;
             ++end) {
            const bool new_bar = end > begin && chords[end].bar != chords[end - 1].bar;
            if (new_bar) whole = end;
            width += cell_width(chords[end]) + (new_bar ? 2 : 0);
            if (width + 14 > static_cast<std::size_t>(std::max(40, style_.width)) && whole > begin)
                return whole;
        }
        return end;
    }

    std::string line(std::size_t begin, std::size_t end) const {
        std::string symbols = "| ", numerals = "  ";
        std::vector<Column> columns;
        std::size_t at = 2;
        for (std::size_t i = begin; i < end; ++i) {
            const auto& chord = explanation_.chords[i];
            if (i > begin && chord.bar != explanation_.chords[i - 1].bar) {
                symbols += "| ";
                numerals += "  ";
                at += 2;
            }
            columns.push_back({&chord, at});
            const auto width = cell_width(chord);
            symbols += pad(chord.symbol, static_cast<int>(width));
            numerals += pad(chord.numeral, static_cast<int>(width));
            at += width;
        }
        numerals.erase(numerals.find_last_not_of(' ') + 1);
        return fmt::format("{}|\n{}\n{}{}", symbols, numerals, arrows(columns, begin, at), words(begin, end));
    }

    std::string arrows(const std::vector<Column>& columns, std::size_t begin, std::size_t right) const {
        std::vector<Arrow> all;
        for (std::size_t c = 0; c < columns.size(); ++c) {
            const auto& chord = *columns[c].chord;
            if (!chord.target || columns[c].chord->symbol == "N.C.") continue;
            const auto target = static_cast<std::size_t>(*chord.target);
            const bool ahead = chord.back ? target >= begin : target > begin + c;
            const bool inside = ahead && target < begin + columns.size();
            all.push_back({c, inside ? target - begin : columns.size(), 0, chord.relation == "prolongs"});
        }
        stack(all, columns.size());
        Canvas canvas;
        for (const auto& arrow : all) draw(canvas, arrow, columns, right);
        return canvas.text();
    }

    /// Arrows that lie inside another go above it; each that leads out of the line has a row of its own.
    static void stack(std::vector<Arrow>& arrows, std::size_t outside) {
        std::vector<std::size_t> order(arrows.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            const auto length = [&](const Arrow& x) { return x.right() - x.left(); };
            if ((arrows[a].to == outside) != (arrows[b].to == outside)) return arrows[b].to == outside;
            if (arrows[a].to == outside) return arrows[a].from > arrows[b].from;
            return length(arrows[a]) != length(arrows[b]) ? length(arrows[a]) < length(arrows[b])
                                                          : arrows[a].from < arrows[b].from;
        });
        for (std::size_t n = 0; n < order.size(); ++n) {
            auto& arrow = arrows[order[n]];
            for (std::size_t m = 0; m < n; ++m) {
                const auto& earlier = arrows[order[m]];
                if (earlier.left() < arrow.right() && arrow.left() < earlier.right())
                    arrow.row = std::max(arrow.row, earlier.row + 1);
            }
        }
    }

    void draw(Canvas& canvas, const Arrow& arrow, const std::vector<Column>& columns,
              std::size_t right) const {
        const auto start = columns[arrow.from].at;
        if (arrow.to < arrow.from) {
            draw_back(canvas, arrow, columns[arrow.to].at + 1, start);
            return;
        }
        const bool out = arrow.to == columns.size();
        const auto stop = out ? right : columns[arrow.to].at - 1;
        for (std::size_t row = 0; row < arrow.row; ++row) canvas.put(row, start, "│");
        canvas.put(arrow.row, start, arrow.prolongs ? "╚" : "└");
        for (auto column = start + 1; column < stop; ++column)
            canvas.put(arrow.row, column, arrow.prolongs ? "═" : "─");
        canvas.put(arrow.row, stop, ">");
        if (out) canvas.append(arrow.row, " " + target_name(*columns[arrow.from].chord));
    }

    /// A shade of a chord points back to it: its own arrow leads on, or back, from one column further left.
    static void draw_back(Canvas& canvas, const Arrow& arrow, std::size_t head, std::size_t start) {
        for (std::size_t row = 0; row < arrow.row; ++row) canvas.put(row, start, "│");
        canvas.put(arrow.row, head, "<");
        for (auto column = head + 1; column < start; ++column) canvas.put(arrow.row, column, "═");
        canvas.put(arrow.row, start, "╝");
    }

    /// "A:5 Cm7"; with `again` where it has stood already and is played once more.
    std::string target_name(const ExplainedChord& chord) const {
        const auto& chords = explanation_.chords;
        const auto target = static_cast<std::size_t>(*chord.target);
        if (target >= chords.size()) return "the top";
        const auto name = fmt::format("{} {}", bar_name(chords[target]), chords[target].symbol);
        if (chord.back) return "back to " + name;
        return *chord.target <= chord.index ? name + " again" : name;
    }

    /// What was recognised and begins in this line: "turnaround: C A7 D7 G7; passing diminished: C#dim7".
    std::string words(std::size_t begin, std::size_t end) const {
        std::vector<std::pair<std::string, std::string>> phrases;  // what, chords
        for (const auto& thing : explanation_.recognised) {
            const auto first = static_cast<std::size_t>(thing.first);
            if (first < begin || first >= end) continue;
            const auto same = std::find_if(phrases.begin(), phrases.end(), [&](const auto& phrase) {
                return !thing.stretch && phrase.first == thing.what;
            });
            if (same != phrases.end()) {
                same->second += " " + explanation_.chords[first].symbol;
            } else {
                phrases.emplace_back(thing.what, extent(thing, end));
            }
        }
        std::string list;
        for (const auto& [what, chords] : phrases)
            list += fmt::format("{}{}{}", list.empty() ? "" : "; ", what, chords);
        return wrap(list, 2, style_.width);
    }

    /// ": C A7 D7 G7" inside a line, " from A:1 to A:8" beyond it.
    std::string extent(const report::Recognised& thing, std::size_t end) const {
        const auto& chords = explanation_.chords;
        const auto first = static_cast<std::size_t>(thing.first), last = static_cast<std::size_t>(thing.last);
        if (last >= end)
            return fmt::format(" from {} to {}", bar_name(chords[first]), bar_name(chords[last]));
        std::string symbols = ":";
        for (auto i = first; i <= last; ++i) symbols += " " + chords[i].symbol;
        return symbols;
    }

    const report::Explanation& explanation_;
    TextStyle style_;
};

}  // namespace

std::string print_explanation(const report::Explanation& explanation, const TextStyle& style) {
    return Printer(explanation, style).run();
}

}  // namespace relead::formats::text
