#include "arrange/slip.h"

#include <cstddef>

#include "arrange/row_label.h"
#include "arrange/sheet_form.h"
#include "arrange/system_pages.h"
#include "base/fmt.h"

namespace relead::arrange {

namespace {

constexpr double smallest_staff = 4.8;  // millimetres

/// A tune of one section that holds the bars of the slip.
tune::Tune tune_of(const tune::Tune& tune, const std::vector<SlipBar>& bars, bool written) {
    tune::Tune slip = tune;
    slip.sections.resize(1);
    auto& section = slip.sections.front();
    section.name = "slip";
    section.title.clear();
    section.key = bars.front().key;
    section.meter = bars.front().bar.meter;
    section.tempo = tune.tempo;
    section.bars.clear();
    for (std::size_t i = 0; i < bars.size(); ++i) {
        auto bar = written ? bars[i].written : bars[i].bar;
        bar.number = bar.length < bar.meter.bar_length() ? 0 : static_cast<int>(i) + 1;
        bar.new_key.reset();
        if (i > 0 && !(bars[i].key == bars[i - 1].key)) bar.new_key = bars[i].key;
        bar.new_tempo.reset();
        bar.melody.reset();
        bar.ossia.reset();
        bar.soloist.reset();
        bar.simile = false;
        section.bars.push_back(std::move(bar));
    }
    slip.order = {};
    slip.order.form = {0};
    return slip;
}

SheetForm form_of(const std::vector<SlipBar>& bars) {
    SheetForm form;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        SheetBar bar;
        bar.bar = static_cast<int>(i);
        bar.closes_section = i + 1 < bars.size() && !bars[i + 1].follows;
        score::Direction label;
        label.kind = score::Direction::Kind::rehearsal;
        label.text = bars[i].label;
        bar.signs.push_back(std::move(label));
        form.bars.push_back(std::move(bar));
        form.playing.push_back({0, static_cast<int>(i)});
    }
    return form;
}

std::vector<ChangedChord> changed_of(const std::vector<SlipBar>& bars) {
    std::vector<ChangedChord> changed;
    for (std::size_t i = 0; i < bars.size(); ++i) {
        for (std::size_t chord = 0; chord < bars[i].changed.size(); ++chord) {
            if (bars[i].changed[chord])
                changed.push_back({{0, static_cast<int>(i), static_cast<int>(chord)}, {}});
        }
    }
    return changed;
}

score::Part part_for(const SheetRow& row, const RowLabel& label, const SheetForm& form,
                     const std::vector<SlipBar>& bars, const RowWish& wish) {
    score::Part part;
    part.name = label.name;
    part.abbreviation = label.abbreviation;
    if (wish.instrument != nullptr) {
        part.sound = wish.instrument->sound;
        part.midi_program = wish.instrument->midi_program;
    }
    part.measures = row_measures(row, form, wish);
    for (std::size_t i = 0; i < bars.size(); ++i) {
        auto& measure = part.measures[i];
        if (!bars[i].number.empty()) measure.number = bars[i].number;
        // The tempo stands in the heading: over the first bar it would run into the next bar's address.
        std::erase_if(measure.directions,
                      [](const auto& d) { return d.kind == score::Direction::Kind::tempo; });
    }
    return part;
}

score::Score head(const tune::Tune& tune, const SlipWish& wish) {
    score::Score sheet;
    sheet.title = tune.title;
    sheet.composer = tune.composer;
    sheet.rights = tune.rights;
    sheet.corner = wish.instrument == nullptr ? "Concert pitch" : std::string(wish.instrument->name);
    sheet.running_order =
        fmt::format("Only the bars that differ: {}{} \u00b7 {} {}", wish.version,
                    wish.soloist ? " (for the soloist)" : "", tune.tempo.feel, tune.tempo.beats_per_minute);
    sheet.stamp = wish.stamp;
    sheet.software = "relead";
    sheet.paper = wish.paper;
    return sheet;
}

/// The largest staff with which the slip fits half a page; the smallest where none does.
double staff_height_for(score::Score sheet, const std::vector<std::vector<std::string>>& texts) {
    const double half = sheet.paper == score::Paper::a4 ? 148.5 : 139.7;
    for (const double height : {7.0, 6.5, 6.0, 5.5, 5.0}) {
        sheet.staff_height = height;
        if (height_of(sheet, texts) <= half) return height;
    }
    return smallest_staff;
}

}  // namespace

score::Score change_slip(const tune::Tune& tune, const std::vector<SlipBar>& bars, const SlipWish& wish) {
    auto sheet = head(tune, wish);
    if (bars.empty()) return sheet;
    const auto form = form_of(bars);
    const std::vector<SheetRow> rows{
        {"Written", tune_of(tune, bars, true), {}, {}, false},
        {wish.version, tune_of(tune, bars, false), changed_of(bars), {}, wish.soloist}};
    const auto labels = row_labels(rows);
    for (std::size_t i = 0; i < rows.size(); ++i)
        sheet.parts.push_back(
            part_for(rows[i], labels[i], form, bars, {wish.instrument, i == 0, GuideTones::none}));
    sheet.groups.push_back({0, 1});
    break_lines_alike(form, sheet);
    std::vector<std::vector<std::string>> texts(system_starts(sheet.parts.front()).size());
    if (!wish.idea.empty()) texts.back().push_back(wish.idea);
    sheet.staff_height = staff_height_for(sheet, texts);
    write_below(texts, sheet);
    return sheet;
}

}  // namespace relead::arrange
