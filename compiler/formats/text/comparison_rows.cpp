#include <algorithm>
#include <cstddef>

#include "base/fmt.h"
#include "formats/text/columns.h"
#include "formats/text/comparison.h"
#include "report/folded.h"
#include "text/grapheme.h"
#include "text/source.h"

namespace relead::formats::text {

namespace {

using report::ComparedBar;
using report::ComparedChord;
using report::Comparison;

constexpr std::size_t bars_a_line = 4;
constexpr int widest_name = 20;
constexpr std::string_view changed_on = "\033[1;31m";
constexpr std::string_view plain = "\033[0m";

Time beat_of(const ComparedBar& bar) {
    const bool compound = bar.unit == 8 && bar.beats % 3 == 0 && bar.beats > 3;
    return compound ? Time(3, 8) : Time(1, bar.unit);
}

std::string symbol_of(const ComparedChord& chord) {
    return (chord.changed ? "*" : "") + chord.symbol;
}

/// The chords of a cell one by one, with what tells their length.
std::vector<std::string> words_of(const ComparedBar& bar, std::size_t row) {
    const auto& chords = bar.rows[row];
    const Time beat = beat_of(bar);
    const bool even = std::all_of(chords.begin(), chords.end(),
                                  [&](const auto& chord) { return chord.length == chords.front().length; });
    const bool in_beats = std::all_of(chords.begin(), chords.end(),
                                      [&](const auto& chord) { return (chord.length / beat).is_whole(); });
    std::vector<std::string> words;
    for (const auto& chord : chords) {
        auto word = symbol_of(chord);
        const Beats beats = chord.length / beat;
        if (!even && in_beats) {
            for (int i = 1; Beats(i) < beats; ++i) word += " /";
        } else if (!even) {
            word += fmt::format("*{}", beats.to_string());
        }
        words.push_back(std::move(word));
    }
    return words;
}

std::string clipped(const std::string& name) {
    if (relead::text::display_width(name) <= widest_name) return name;
    std::string text;
    relead::text::GraphemeWalk walk(name);
    int used = 0;
    while (walk.next()) {
        used += relead::text::cluster_width(walk.text());
        if (used >= widest_name) break;
        text += walk.text();
    }
    return text + "\u2026";
}

struct Line {
    std::string label;
    std::vector<std::size_t> bars;
};

class Rows {
public:
    Rows(const Comparison& comparison, const TextStyle& style) : comparison_(comparison), style_(style) {
        for (const auto& row : comparison.rows) {
            names_.push_back(clipped(row.name) + (row.soloist ? " (solo)" : ""));
            name_width_ = std::max(name_width_, relead::text::display_width(names_.back()));
        }
        for (const auto& bar : comparison.bars)
            label_width_ = std::max(label_width_, relead::text::display_width(label_of(bar)));
    }

    [[nodiscard]] std::string print() const {
        std::string text;
        for (const auto& section : report::fold(comparison_)) {
            if (!text.empty()) text += "\n";
            text += wrap(report::heading(section), 0, style_.width);
            const auto lines = lines_of(section.bars);
            const auto widths = common_widths(lines);
            for (const auto& line : lines) text += print_line(line, widths);
        }
        return text;
    }

private:
    static std::string label_of(const ComparedBar& bar) {
        return bar.number == 0 ? fmt::format("{}:pickup", bar.section)
                               : fmt::format("{}:{}", bar.section, bar.number);
    }
    [[nodiscard]] int room() const { return style_.width - label_width_ - name_width_ - 4; }

    [[nodiscard]] bool changes(std::size_t bar, std::size_t row) const {
        const auto& compared = comparison_.bars[bar];
        return row > 0 && !(compared.rows[row].empty() && compared.rows[0].empty()) &&
               (compared.rows[row].empty() ||
                std::any_of(compared.rows[row].begin(), compared.rows[row].end(),
                            [](const auto& chord) { return chord.changed; }) ||
                has_own_row(bar, row));
    }
    /// What the tune itself writes for the soloist is no change, and is played.
    [[nodiscard]] bool has_own_row(std::size_t bar, std::size_t row) const {
        const auto& rows = comparison_.bars[bar].rows;
        return comparison_.rows[row].soloist &&
               !std::equal(rows[row].begin(), rows[row].end(), rows[0].begin(), rows[0].end(),
                           [](const auto& a, const auto& b) { return a.symbol == b.symbol; });
    }
    /// Empty where a row has nothing to say; a lone dash where the other tune is silent or over.
    [[nodiscard]] std::string cell(std::size_t bar, std::size_t row) const {
        const auto& compared = comparison_.bars[bar];
        if (row > 0 && !changes(bar, row)) return "";
        const auto text = compared.rows[row].empty() ? "-" : cell_text(compared, row);
        return row == 0 && !compared.ending.empty() ? fmt::format("[{} {}", compared.ending, text) : text;
    }
    [[nodiscard]] int width_of(std::size_t bar) const {
        int width = 1;
        for (std::size_t row = 0; row < comparison_.rows.size(); ++row)
            width = std::max(width, relead::text::display_width(cell(bar, row)));
        return width;
    }

    [[nodiscard]] std::vector<Line> lines_of(const std::vector<std::size_t>& bars) const {
        std::vector<Line> lines;
        int used = 0;
        for (std::size_t i = 0; i < bars.size(); ++i) {
            const int needed = width_of(bars[i]) + 3;
            const bool after_pickup = i > 0 && comparison_.bars[bars[i - 1]].number == 0;
            const bool full = !lines.empty() && lines.back().bars.size() == bars_a_line;
            if (lines.empty() || after_pickup || full || used + needed > room()) {
                lines.push_back({label_of(comparison_.bars[bars[i]]), {}});
                used = 0;
            }
            lines.back().bars.push_back(bars[i]);
            used += needed;
        }
        return lines;
    }
    /// Widths of the first, second … bar of a line over all lines of a section; none when that would not fit.
    [[nodiscard]] std::vector<int> common_widths(const std::vector<Line>& lines) const {
        std::vector<int> widths;
        for (const auto& line : lines) {
            for (std::size_t i = 0; i < line.bars.size(); ++i) {
                if (widths.size() <= i) widths.resize(i + 1, 0);
                widths[i] = std::max(widths[i], width_of(line.bars[i]));
            }
        }
        int sum = 0;
        for (const int width : widths) sum += width + 3;
        return sum > room() ? std::vector<int>() : widths;
    }

    [[nodiscard]] std::string coloured_cell(std::size_t bar, std::size_t row) const {
        const auto text = cell(bar, row);
        if (!style_.colour || row == 0 || text.empty() || text == "-") return text;
        const auto& chords = comparison_.bars[bar].rows[row];
        const auto words = words_of(comparison_.bars[bar], row);
        std::string coloured;
        for (std::size_t i = 0; i < words.size(); ++i) {
            if (i > 0) coloured += ' ';
            coloured += chords[i].changed ? fmt::format("{}{}{}", changed_on, words[i], plain) : words[i];
        }
        return coloured;
    }

    [[nodiscard]] std::string print_line(const Line& line, const std::vector<int>& widths) const {
        std::string text;
        for (std::size_t row = 0; row < comparison_.rows.size(); ++row) {
            const bool shown = row == 0 || std::any_of(line.bars.begin(), line.bars.end(),
                                                       [&](std::size_t bar) { return changes(bar, row); });
            if (!shown) continue;
            text += fmt::format("{}  {} |", pad(row == 0 ? line.label : "", label_width_),
                                pad(names_[row], name_width_));
            for (std::size_t i = 0; i < line.bars.size(); ++i) {
                const int width = widths.empty() ? width_of(line.bars[i]) : widths[i];
                const int missing = width - relead::text::display_width(cell(line.bars[i], row));
                text += fmt::format(" {}{} |", coloured_cell(line.bars[i], row),
                                    std::string(static_cast<std::size_t>(std::max(0, missing)), ' '));
            }
            text += "\n";
        }
        return text;
    }

    const Comparison& comparison_;
    const TextStyle& style_;
    std::vector<std::string> names_;
    int name_width_ = 0;
    int label_width_ = 0;
};

}  // namespace

std::string cell_text(const report::ComparedBar& bar, std::size_t row) {
    std::string text;
    for (const auto& word : words_of(bar, row)) text += (text.empty() ? "" : " ") + word;
    return text;
}

std::string print_rows(const Comparison& comparison, const TextStyle& style) {
    return Rows(comparison, style).print();
}

}  // namespace relead::formats::text
