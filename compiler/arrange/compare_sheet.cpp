#include "arrange/compare_sheet.h"

#include <algorithm>

#include "arrange/layout.h"
#include "arrange/reading.h"
#include "arrange/sheet_form.h"
#include "arrange/system_pages.h"
#include "base/fmt.h"

namespace relead::arrange {

namespace {

constexpr std::size_t longest_abbreviation = 8;
constexpr int small_staff_size = 70;  // per cent
constexpr double staff_height = 5.5;  // millimetres: three to five rows a system must fit a page

score::Part part_called(const std::string& name, std::vector<score::Measure> measures) {
    score::Part part;
    part.name = name;
    part.abbreviation = short_name(name, longest_abbreviation);
    part.measures = std::move(measures);
    return part;
}

std::size_t symbol_room(const std::vector<score::Harmony>& harmonies) {
    std::size_t room = 0;
    for (const auto& harmony : harmonies)
        room += 2 + theory::to_string(harmony.chord, theory::SymbolStyle::plain).size();
    return room;
}

/// Where lines break: decided once for all parts, by the melody and the widest symbols of each bar.
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

void head(const tune::Tune& written, const CompareSheetWish& wish, score::Score& sheet) {
    sheet.title = written.title;
    sheet.composer = written.composer;
    sheet.rights = written.rights;
    sheet.corner = "Comparison \u00b7 concert pitch";
    sheet.stamp = wish.stamp;
    sheet.software = "relead";
    sheet.paper = wish.paper;
    sheet.staff_height = staff_height;
}

}  // namespace

score::Score compare_sheet(const tune::Tune& written, const std::vector<SheetRow>& rows,
                           const CompareSheetWish& wish) {
    score::Score sheet;
    head(written, wish, sheet);
    const auto form = work_out_form(written, Jumps::when_it_saves_a_page);
    if (has_melody(written)) sheet.parts.push_back(part_called("Melody", melody_measures(written, form)));
    const auto guide_tones = wish.guide_tones ? GuideTones::small : GuideTones::none;
    for (const auto& row : rows) {
        auto part = part_called(row.name, row_measures(row, form, sheet.parts.empty(), guide_tones));
        if (wish.guide_tones) {
            part.staves = 2;
            part.second_staff_size = small_staff_size;
        }
        sheet.parts.push_back(std::move(part));
    }
    sheet.groups.push_back({0, static_cast<int>(sheet.parts.size()) - 1});
    break_lines_alike(form, sheet);
    break_pages(wish.end_notes, sheet);
    return sheet;
}

}  // namespace relead::arrange
