#include "arrange/compare_sheet.h"

#include <algorithm>
#include <set>

#include "arrange/reading.h"
#include "arrange/row_label.h"
#include "arrange/sheet_form.h"
#include "arrange/system_pages.h"
#include "base/fmt.h"

namespace relead::arrange {

namespace {

constexpr int small_staff_size = 70;  // per cent
constexpr double staff_height = 5.5;  // millimetres: three to five rows a system must fit a page

score::Part part_called(const RowLabel& label, std::vector<score::Measure> measures) {
    score::Part part;
    part.name = label.name;
    part.abbreviation = label.abbreviation;
    part.measures = std::move(measures);
    return part;
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

/// For each system the reasons of the changes that first stand in it, by number.
std::vector<std::vector<std::string>> reasons_below(const std::vector<SheetRow>& rows, const SheetForm& form,
                                                    const std::vector<std::string>& reasons,
                                                    const std::vector<std::size_t>& starts) {
    std::vector<std::vector<std::string>> texts(starts.size());
    std::set<int> told;
    for (std::size_t system = 0; system < starts.size(); ++system) {
        const auto last = system + 1 < starts.size() ? starts[system + 1] : form.bars.size();
        std::set<int> here;
        for (auto bar = starts[system]; bar < last; ++bar) {
            for (const auto& row : rows) {
                for (const auto& note : row.notes) {
                    if (note.ref.section == form.bars[bar].section && note.ref.bar == form.bars[bar].bar)
                        here.insert(note.number);
                }
            }
        }
        for (const int number : here) {
            const auto index = static_cast<std::size_t>(number) - 1;
            if (told.insert(number).second && index < reasons.size())
                texts[system].push_back(fmt::format("({}) {}", number, reasons[index]));
        }
    }
    return texts;
}

}  // namespace

score::Score compare_sheet(const tune::Tune& written, const std::vector<SheetRow>& rows,
                           const CompareSheetWish& wish) {
    score::Score sheet;
    head(written, wish, sheet);
    const auto form = work_out_form(written, Jumps::when_it_saves_a_page);
    if (has_melody(written))
        sheet.parts.push_back(part_called({"Melody", "Melody"}, melody_measures(written, form)));
    const auto guide_tones = wish.guide_tones ? GuideTones::small : GuideTones::none;
    const auto labels = row_labels(rows);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        auto part =
            part_called(labels[i], row_measures(rows[i], form, {nullptr, sheet.parts.empty(), guide_tones}));
        if (wish.guide_tones) {
            part.staves = 2;
            part.second_staff_size = small_staff_size;
        }
        sheet.parts.push_back(std::move(part));
    }
    sheet.groups.push_back({0, static_cast<int>(sheet.parts.size()) - 1});
    break_lines_alike(form, sheet);
    auto texts = reasons_below(rows, form, wish.reasons, system_starts(sheet.parts.front()));
    if (!texts.empty()) texts.back().insert(texts.back().end(), wish.end_notes.begin(), wish.end_notes.end());
    write_below(texts, sheet);
    return sheet;
}

}  // namespace relead::arrange
