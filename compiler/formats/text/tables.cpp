#include "formats/text/tables.h"

#include <algorithm>
#include <cstddef>

#include "base/fmt.h"
#include "formats/text/columns.h"
#include "text/source.h"

namespace relead::formats::text {

namespace {

constexpr std::string_view bold = "\033[1m";
constexpr std::string_view plain = "\033[0m";

std::string emphasised(std::string text, const TextStyle& style) {
    if (!style.colour || text.find_first_not_of(' ') == std::string::npos) return text;
    return fmt::format("{}{}{}", bold, text, plain);
}

std::string bar_label(const report::BarPair& bar) {
    const std::string ending = bar.ending.empty() ? "" : fmt::format("[{} ", bar.ending);
    return ending + (bar.was.empty() ? "-" : bar.was);
}

int bar_width(const report::BarPair& bar) {
    return std::max(relead::text::display_width(bar_label(bar)), relead::text::display_width(bar.now));
}

/// Where each line of bars of a section begins: after the pickup, then every four bars, or sooner
/// when the bars are too wide for the terminal.
std::vector<std::size_t> line_begins(const std::vector<report::BarPair>& bars, int room) {
    std::vector<std::size_t> begins;
    int used = 0;
    std::size_t in_line = 0;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        const int needed = bar_width(bars[i]) + 3;
        const bool after_pickup = i > 0 && bars[i - 1].number == 0;
        if (i == 0 || after_pickup || in_line == 4 || used + needed > room) {
            begins.push_back(i);
            used = 0;
            in_line = 0;
        }
        used += needed;
        ++in_line;
    }
    return begins;
}

std::string section_label(const report::SectionPair& section, int bar) {
    const auto place =
        bar == 0 ? fmt::format("{}:pickup", section.name) : fmt::format("{}:{}", section.name, bar);
    return section.playing > 1 ? fmt::format("{} ({})", place, section.playing) : place;
}

struct BarLine {
    std::string label;
    std::size_t begin = 0, end = 0;
    const report::SectionPair* section = nullptr;
};

std::vector<BarLine> bar_lines(const std::vector<report::SectionPair>& sections, int room) {
    std::vector<BarLine> lines;
    for (const auto& section : sections) {
        const auto begins = line_begins(section.bars, room);
        for (std::size_t i = 0; i < begins.size(); ++i) {
            const auto end = i + 1 < begins.size() ? begins[i + 1] : section.bars.size();
            lines.push_back(
                {section_label(section, section.bars[begins[i]].number), begins[i], end, &section});
        }
    }
    return lines;
}

/// Widths of the first, second … bar of a line, common to all lines, so that bars stand in columns.
std::vector<int> widths_of(const std::vector<BarLine>& lines) {
    std::vector<int> widths;
    for (const auto& line : lines) {
        for (std::size_t i = line.begin; i < line.end; ++i) {
            const auto column = i - line.begin;
            if (widths.size() <= column) widths.resize(column + 1, 0);
            widths[column] = std::max(widths[column], bar_width(line.section->bars[i]));
        }
    }
    return widths;
}

/// Column widths that fit, or none: then every line takes the widths of its own bars.
std::vector<int> common_widths(const std::vector<BarLine>& lines, int room) {
    auto widths = widths_of(lines);
    int sum = 0;
    for (const int width : widths) sum += width + 3;
    if (sum > room) widths.clear();
    return widths;
}

std::string print_line(const BarLine& line, const std::vector<int>& widths, int label_width,
                       const TextStyle& style, std::string_view lower) {
    std::string was = pad(line.label, label_width) + " |";
    std::string now = pad("  " + std::string(lower), label_width) + " |";
    bool changed = false;
    for (std::size_t i = line.begin; i < line.end; ++i) {
        const auto& bar = line.section->bars[i];
        const int width = widths.empty() ? bar_width(bar) : widths[i - line.begin];
        was += " " + pad(bar_label(bar), width) + " |";
        now += " " + emphasised(pad(bar.now, width), style) + " |";
        changed = changed || !bar.now.empty();
    }
    return was + "\n" + (changed ? now + "\n" : "");
}

bool all_say(const std::vector<report::ChangeRow>& rows, report::MelodySays what) {
    return std::all_of(rows.begin(), rows.end(),
                       [&](const report::ChangeRow& row) { return row.melody_says == what; });
}

/// Said once: under each change it would say nothing any more.
std::string common_melody(const std::vector<report::ChangeRow>& rows) {
    using report::MelodySays;
    if (rows.empty()) return {};
    if (all_say(rows, MelodySays::fits)) return "The melody fits every change.";
    if (all_say(rows, MelodySays::unchecked)) return rows.front().melody;
    const bool some = std::any_of(rows.begin(), rows.end(), [](const report::ChangeRow& row) {
        return row.melody_says == MelodySays::fits;
    });
    return some ? "Elsewhere the melody fits." : "";
}

}  // namespace

std::string print_side_by_side(const std::vector<report::SectionPair>& sections, const TextStyle& style,
                               std::string_view lower) {
    int label_width = 2 + static_cast<int>(lower.size());
    for (const auto& section : sections) {
        for (const auto& bar : section.bars) {
            label_width =
                std::max(label_width, relead::text::display_width(section_label(section, bar.number)));
        }
    }
    const int room = style.width - label_width - 2;
    const auto lines = bar_lines(sections, room);
    const auto widths = common_widths(lines, room);
    std::string text;
    for (const auto& line : lines) text += print_line(line, widths, label_width, style, lower);
    return text;
}

std::string print_reason(const std::vector<report::ChangeRow>& rows, std::size_t index,
                         const TextStyle& style) {
    const auto& row = rows[index];
    const auto said = std::find_if(rows.begin(), rows.end(), [&](const report::ChangeRow& other) {
        return other.new_changes == row.new_changes && other.reason == row.reason &&
               other.melody == row.melody && other.sounding == row.sounding;
    });
    if (said != rows.begin() + static_cast<std::ptrdiff_t>(index))
        return wrap("As at " + said->place + ".", 6, style.width);
    auto text = wrap(row.sounding, 6, style.width) + wrap(row.reason, 6, style.width);
    const bool of_all = row.melody_says == report::MelodySays::unchecked && all_say(rows, row.melody_says);
    if (row.melody_says != report::MelodySays::fits && !of_all) text += wrap(row.melody, 6, style.width);
    return text;
}

std::string print_changes(const std::vector<report::ChangeRow>& rows, const TextStyle& style) {
    std::vector<std::vector<std::string>> cells{
        {"place", "old", "new", "rule", "guide tones before", "guide tones now"}};
    for (const auto& row : rows) {
        cells.push_back(
            {row.place, row.old_changes, row.new_changes, row.rule, row.old_motion, row.new_motion});
    }
    const auto widths = column_widths(cells);
    std::string text;
    for (std::size_t r = 0; r < cells.size(); ++r) {
        std::string line;
        for (std::size_t c = 0; c < cells[r].size(); ++c) {
            const bool last = c + 1 == cells[r].size();
            auto cell = last ? cells[r][c] : pad(cells[r][c], widths[c]) + "  ";
            line += c == 2 && r > 0 ? emphasised(std::move(cell), style) : cell;
        }
        text += line + "\n";
        if (r == 0) continue;
        text += print_reason(rows, r - 1, style);
    }
    return text + wrap(common_melody(rows), 0, style.width);
}

}  // namespace relead::formats::text
