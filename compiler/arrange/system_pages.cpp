#include "arrange/system_pages.h"

#include <algorithm>

#include "arrange/layout.h"
#include "base/fmt.h"
#include "text/source.h"
#include "theory/chord.h"

namespace relead::arrange {

namespace {

// Lengths in tenths of a staff space.
constexpr double staff = 40;
constexpr double small_staff = 75;    // with the distance to its own staff
constexpr double between_parts = 75;  // chord symbols stand there
constexpr double between_systems = 85;
constexpr double margins = 160;
constexpr double heading = 170;
constexpr double above_text = 15;
constexpr double line_millimetres = 3.4;
/// From the first bar of a system to the edge of the page in wide letters.
constexpr std::size_t columns = 74;

std::size_t symbol_room(const std::vector<score::Harmony>& harmonies) {
    std::size_t room = 0;
    for (const auto& harmony : harmonies)
        room += 2 + theory::to_string(harmony.chord, theory::SymbolStyle::plain).size();
    return room;
}

struct Sizes {
    double room = 0;    ///< of a page without its heading
    double system = 0;  ///< with the distance to the next
    double line = 0;    ///< of a text
};

Sizes sizes_of(const score::Score& sheet) {
    const double page_height = sheet.paper == score::Paper::a4 ? 297 : 279.4;
    const double tenths = staff / sheet.staff_height;
    Sizes sizes;
    sizes.room = page_height * tenths - margins - heading;
    sizes.system = between_systems + between_parts * (static_cast<double>(sheet.parts.size()) - 1);
    for (const auto& part : sheet.parts) sizes.system += part.staves > 1 ? staff + small_staff : staff;
    sizes.line = line_millimetres * tenths;
    return sizes;
}

double text_height(const std::vector<std::string>& lines, const Sizes& sizes) {
    return lines.empty() ? 0 : above_text + sizes.line * static_cast<double>(lines.size());
}

/// No text is longer than what a page has left below one system.
void cut_to_page(const Sizes& sizes, std::vector<std::string>& lines) {
    const double left = sizes.room - sizes.system - above_text;
    const auto most = std::max<std::size_t>(1, left < 0 ? 0 : static_cast<std::size_t>(left / sizes.line));
    if (lines.size() <= most) return;
    const auto left_out = lines.size() - most + 1;
    lines.resize(most - 1);
    lines.push_back(fmt::format("({} more lines did not fit this page.)", left_out));
}

/// Systems on each page when none is higher than `room`.
std::vector<std::size_t> fill_pages(const std::vector<double>& heights, double room) {
    std::vector<std::size_t> pages;
    double used = 0;
    for (const double height : heights) {
        if (pages.empty() || used + height > room) {
            pages.push_back(0);
            used = 0;
        }
        ++pages.back();
        used += height;
    }
    return pages;
}

/// As few pages as the room allows, filled about alike.
std::vector<std::size_t> spread(const std::vector<double>& heights, double room) {
    constexpr double step = 10;
    auto pages = fill_pages(heights, room);
    const double highest = *std::max_element(heights.begin(), heights.end());
    for (double less = room - step; less >= highest; less -= step) {
        auto evener = fill_pages(heights, less);
        if (evener.size() > pages.size()) break;
        pages = std::move(evener);
    }
    return pages;
}

void set_breaks(const std::vector<std::size_t>& pages, const std::vector<std::size_t>& starts,
                const std::vector<double>& texts, score::Score& sheet) {
    std::size_t page = 0, on_page = 0;
    for (std::size_t system = 0; system < starts.size(); ++system) {
        const bool turns = on_page == pages[page];
        if (turns) {
            ++page;
            on_page = 0;
        }
        ++on_page;
        if (system == 0) continue;
        for (auto& part : sheet.parts) {
            auto& measure = part.measures[starts[system]];
            measure.before = turns ? score::Break::page : score::Break::system;
            if (!turns && texts[system - 1] > 0)
                measure.room_above = static_cast<int>(between_systems + texts[system - 1]);
        }
    }
}

void write_text(const std::vector<std::string>& lines, std::size_t measure, score::Part& part) {
    if (lines.empty()) return;
    score::Direction text;
    text.above = false;
    text.style.small = true;
    text.staff = part.staves;
    for (const auto& line : lines) text.text += (text.text.empty() ? "" : "\n") + line;
    auto& list = part.measures[measure].directions;
    list.insert(list.begin(), std::move(text));
}

}  // namespace

void break_lines_alike(const SheetForm& form, score::Score& sheet) {
    auto widest = sheet.parts.front().measures;
    for (std::size_t i = 0; i < widest.size(); ++i) {
        for (const auto& part : sheet.parts) {
            if (symbol_room(part.measures[i].harmonies) > symbol_room(widest[i].harmonies))
                widest[i].harmonies = part.measures[i].harmonies;
        }
        widest[i].before = score::Break::none;
    }
    lay_out(form, widest);
    for (auto& part : sheet.parts) {
        for (std::size_t i = 0; i < widest.size(); ++i) {
            const bool breaks = widest[i].before != score::Break::none;
            part.measures[i].before = breaks ? score::Break::system : score::Break::none;
        }
    }
}

std::vector<std::size_t> system_starts(const score::Part& part) {
    std::vector<std::size_t> starts;
    for (std::size_t i = 0; i < part.measures.size(); ++i) {
        if (i == 0 || part.measures[i].before != score::Break::none) starts.push_back(i);
    }
    return starts;
}

std::vector<std::string> text_lines(const std::vector<std::string>& paragraphs, std::size_t columns_wished) {
    std::vector<std::string> lines;
    for (const auto& paragraph : paragraphs) {
        std::string line;
        std::size_t at = 0;
        while (at < paragraph.size()) {
            const auto end = std::min(paragraph.find(' ', at), paragraph.size());
            const auto word = paragraph.substr(at, end - at);
            at = end + 1;
            if (word.empty()) continue;
            const int width = text::display_width(line) + 1 + text::display_width(word);
            if (!line.empty() && static_cast<std::size_t>(width) > columns_wished) {
                lines.push_back(std::move(line));
                line = "\u2003" + word;
                continue;
            }
            line += (line.empty() ? "" : " ") + word;
        }
        if (!line.empty()) lines.push_back(std::move(line));
    }
    return lines;
}

double height_of(const score::Score& sheet, const std::vector<std::vector<std::string>>& texts) {
    const auto sizes = sizes_of(sheet);
    const auto systems = system_starts(sheet.parts.front()).size();
    double height = margins / 2 + heading + sizes.system * static_cast<double>(systems);
    for (const auto& paragraphs : texts) height += text_height(text_lines(paragraphs, columns), sizes);
    return height * sheet.staff_height / staff;
}

void write_below(const std::vector<std::vector<std::string>>& texts, score::Score& sheet) {
    const auto starts = system_starts(sheet.parts.front());
    if (starts.empty()) return;
    const auto sizes = sizes_of(sheet);
    std::vector<double> heights, text_heights;
    for (std::size_t system = 0; system < starts.size(); ++system) {
        std::vector<std::string> lines;
        if (system < texts.size()) lines = text_lines(texts[system], columns);
        cut_to_page(sizes, lines);
        text_heights.push_back(text_height(lines, sizes));
        heights.push_back(sizes.system + text_heights.back());
        write_text(lines, starts[system], sheet.parts.back());
    }
    const auto pages = spread(heights, sizes.room);
    set_breaks(pages, starts, text_heights, sheet);
    sheet.pages = static_cast<int>(pages.size());
    sheet.systems_a_page = static_cast<int>(*std::max_element(pages.begin(), pages.end()));
}

}  // namespace relead::arrange
