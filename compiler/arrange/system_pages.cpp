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

/// What a reader takes for a page: for one that keeps to the sheet's staff size in tenths, for one that sets
/// every staff 7 mm high in millimetres.
struct Sizes {
    double first_room = 0;  ///< of the first page below its heading
    double room = 0;        ///< of a further page
    double system = 0;      ///< without texts, with the distance to the next
    double above_text = 0;
    double line = 0;  ///< of a text
    double bare = 0;  ///< of a system without texts, where that is more than `system`
};

double page_height(const score::Score& sheet) {
    return sheet.paper == score::Paper::a4 ? 297 : 279.4;
}

Sizes sizes_of(const score::Score& sheet) {
    const double tenths = staff / sheet.staff_height;
    Sizes sizes;
    sizes.room = sizes.first_room = page_height(sheet) * tenths - margins - heading;
    sizes.system = between_systems + between_parts * (static_cast<double>(sheet.parts.size()) - 1);
    for (const auto& part : sheet.parts) sizes.system += part.staves > 1 ? staff + small_staff : staff;
    sizes.above_text = above_text;
    sizes.line = line_millimetres * tenths;
    return sizes;
}

/// In millimetres, measured in the pages of Verovio 6.3, which takes no staff size from a sheet, over all
/// sample tunes with five versions, and with two and guide tones. Distances below systems and headings are
/// the most that occurred; staves stand 17.4 apart in nearly all systems, up to 19.2 where notes push them.
Sizes unscaled_sizes_of(const score::Score& sheet) {
    constexpr double heading_above = 28, above = 10, both_margins = 20;
    constexpr double staff_step = 17.5, one_staff = 7, next_system = 13.4, next_bare_system = 16.8, end = 3;
    constexpr int title_beside = 34, title_across = 85;  // columns; a longer title has lines of its own
    const int title = text::display_width(sheet.title);
    const double title_above = title <= title_beside ? 0 : title <= title_across ? 4 : 8;
    int staves = 0;
    for (const auto& part : sheet.parts) staves += part.staves;
    Sizes sizes;
    // The last system of a page has no other below it.
    const double usable = page_height(sheet) - both_margins + next_system - end;
    sizes.first_room = usable - heading_above - title_above;
    sizes.room = usable - above;
    const double staffs = staff_step * (staves - 1) + one_staff;
    sizes.system = staffs + next_system;
    sizes.bare = staffs + next_bare_system;
    sizes.line = 3.8;
    return sizes;
}

double text_height(std::size_t lines, const Sizes& sizes) {
    return lines == 0 ? 0 : sizes.above_text + sizes.line * static_cast<double>(lines);
}

double system_height(std::size_t lines, const Sizes& sizes) {
    return std::max(sizes.system + text_height(lines, sizes), sizes.bare);
}

/// No text is longer than what a page has left below one system.
void cut_to_page(const std::vector<Sizes>& readers, std::vector<std::string>& lines) {
    auto most = lines.size();
    for (const auto& sizes : readers) {
        const double left = sizes.first_room - sizes.system - sizes.above_text;
        most = std::min(most, left < sizes.line ? 1 : static_cast<std::size_t>(left / sizes.line));
    }
    if (lines.size() <= most) return;
    const auto left_out = lines.size() - most + 1;
    lines.resize(most - 1);
    lines.push_back(fmt::format("({} more lines did not fit this page.)", left_out));
}

/// Systems on each page that no reader finds fuller than `share` of it.
std::vector<std::size_t> fill_pages(const std::vector<std::size_t>& lines, const std::vector<Sizes>& readers,
                                    double share) {
    std::vector<std::size_t> pages;
    std::vector<double> used(readers.size());
    for (const auto count : lines) {
        bool fits = !pages.empty();
        for (std::size_t i = 0; i < readers.size(); ++i) {
            const double room = pages.size() == 1 ? readers[i].first_room : readers[i].room;
            fits = fits && used[i] + system_height(count, readers[i]) <= room * share;
        }
        if (!fits) {
            pages.push_back(0);
            std::fill(used.begin(), used.end(), 0.0);
        }
        ++pages.back();
        for (std::size_t i = 0; i < readers.size(); ++i) used[i] += system_height(count, readers[i]);
    }
    return pages;
}

/// As few pages as the room allows, filled about alike.
std::vector<std::size_t> spread(const std::vector<std::size_t>& lines, const std::vector<Sizes>& readers) {
    auto pages = fill_pages(lines, readers, 1);
    for (int share = 99; share > 20; --share) {
        auto evener = fill_pages(lines, readers, share / 100.0);
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
    for (const auto& paragraphs : texts) height += text_height(text_lines(paragraphs, columns).size(), sizes);
    return height * sheet.staff_height / staff;
}

void write_below(const std::vector<std::vector<std::string>>& texts, score::Score& sheet) {
    const auto starts = system_starts(sheet.parts.front());
    if (starts.empty()) return;
    const auto sizes = sizes_of(sheet);
    std::vector<Sizes> readers{sizes};
    // Where not even one system fits, nothing is won by breaking pages for it.
    if (const auto unscaled = unscaled_sizes_of(sheet); unscaled.bare <= unscaled.first_room)
        readers.push_back(unscaled);
    std::vector<double> text_heights;
    std::vector<std::size_t> line_counts;
    for (std::size_t system = 0; system < starts.size(); ++system) {
        std::vector<std::string> lines;
        if (system < texts.size()) lines = text_lines(texts[system], columns);
        cut_to_page(readers, lines);
        text_heights.push_back(text_height(lines.size(), sizes));
        line_counts.push_back(lines.size());
        write_text(lines, starts[system], sheet.parts.back());
    }
    const auto pages = spread(line_counts, readers);
    set_breaks(pages, starts, text_heights, sheet);
    sheet.pages = static_cast<int>(pages.size());
    sheet.systems_a_page = static_cast<int>(*std::max_element(pages.begin(), pages.end()));
}

}  // namespace relead::arrange
