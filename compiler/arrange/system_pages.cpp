#include "arrange/system_pages.h"

#include <algorithm>
#include <cstddef>

#include "base/fmt.h"

namespace relead::arrange {

namespace {

// Lengths in tenths of a staff space.
constexpr double staff = 40;
constexpr double small_staff = 75;    // with the distance to its own staff
constexpr double between_parts = 75;  // chord symbols stand there
constexpr double between_systems = 85;
constexpr double margins = 160;
constexpr double heading = 170;
constexpr double line_millimetres = 3.4;       // of an end note
constexpr double character_millimetres = 1.5;  // on the average

struct Sizes {
    double room = 0;    ///< of a page without its heading
    double system = 0;  ///< with the distance to the next
    double line = 0;    ///< of the end notes
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

std::size_t columns_of(const score::Score& sheet) {
    const double page_width = sheet.paper == score::Paper::a4 ? 210 : 215.9;
    return static_cast<std::size_t>((page_width - 20) / character_millimetres);
}

std::size_t system_count(const score::Part& part) {
    std::size_t count = 1;
    for (std::size_t i = 1; i < part.measures.size(); ++i)
        count += part.measures[i].before != score::Break::none ? 1 : 0;
    return count;
}

/// Systems on each page: the first holds no more than `first`, the others about as many each.
std::vector<std::size_t> spread(std::size_t systems, std::size_t first, std::size_t most) {
    std::vector<std::size_t> pages{std::min(systems, first)};
    auto left = systems - pages.front();
    while (left > 0) {
        const auto more_pages = (left + most - 1) / most;
        pages.push_back((left + more_pages - 1) / more_pages);
        left -= pages.back();
    }
    return pages;
}

void set_breaks(const std::vector<std::size_t>& pages, score::Score& sheet) {
    for (auto& part : sheet.parts) {
        std::size_t page = 0, on_page = 1;
        for (std::size_t i = 1; i < part.measures.size(); ++i) {
            if (part.measures[i].before == score::Break::none) continue;
            if (on_page == pages[page]) {
                part.measures[i].before = score::Break::page;
                ++page;
                on_page = 0;
            }
            ++on_page;
        }
    }
}

std::size_t whole(double value) {
    return value < 0 ? 0 : static_cast<std::size_t>(value);
}

}  // namespace

std::vector<std::string> note_lines(const std::vector<std::string>& paragraphs, std::size_t columns) {
    std::vector<std::string> lines;
    for (const auto& paragraph : paragraphs) {
        std::string line;
        std::size_t at = 0;
        while (at < paragraph.size()) {
            const auto end = std::min(paragraph.find(' ', at), paragraph.size());
            const auto word = paragraph.substr(at, end - at);
            at = end + 1;
            if (word.empty()) continue;
            if (!line.empty() && line.size() + 1 + word.size() > columns) {
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

void break_pages(const std::vector<std::string>& end_notes, score::Score& sheet) {
    const auto sizes = sizes_of(sheet);
    auto lines = note_lines(end_notes, columns_of(sheet));
    const auto most_lines = whole((sizes.room - sizes.system) / sizes.line);
    if (lines.size() > most_lines && most_lines > 0) {
        const auto left_out = lines.size() - most_lines + 1;
        lines.resize(most_lines - 1);
        lines.push_back(fmt::format("({} more lines did not fit this page.)", left_out));
    }
    const auto most = std::max<std::size_t>(1, whole(sizes.room / sizes.system));
    const auto notes = sizes.line * static_cast<double>(lines.size());
    const auto first = std::max<std::size_t>(1, whole((sizes.room - notes) / sizes.system));
    const auto pages = spread(system_count(sheet.parts.front()), first, most);
    set_breaks(pages, sheet);
    sheet.pages = static_cast<int>(pages.size());
    sheet.systems_a_page = static_cast<int>(*std::max_element(pages.begin(), pages.end()));
    sheet.end_notes = std::move(lines);
}

}  // namespace relead::arrange
