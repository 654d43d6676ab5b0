#include "arrange/slip.h"

#include <cstddef>

#include "arrange/part_builder.h"
#include "arrange/reading.h"
#include "arrange/sheet_form.h"
#include "base/fmt.h"

namespace relead::arrange {

namespace {

/// A tune of one section that holds the bars of the slip.
tune::Tune tune_of(const tune::Tune& tune, const std::vector<SlipBar>& bars) {
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
        auto bar = bars[i].bar;
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
        for (std::size_t chord = 0; chord < bars[i].was.size(); ++chord) {
            if (bars[i].was[chord].empty()) continue;
            changed.push_back({{0, static_cast<int>(i), static_cast<int>(chord)}, bars[i].was[chord]});
        }
    }
    return changed;
}

score::Part part_for(const theory::Instrument* instrument) {
    score::Part part;
    part.show_name = false;
    part.name = instrument == nullptr ? "Changes" : std::string(instrument->name);
    part.abbreviation = instrument == nullptr ? "Ch." : std::string(instrument->abbreviation);
    if (instrument == nullptr) return part;
    part.sound = instrument->sound;
    part.midi_program = instrument->midi_program;
    return part;
}

}  // namespace

score::Score change_slip(const tune::Tune& tune, const std::vector<SlipBar>& bars, const SlipWish& wish) {
    score::Score sheet;
    sheet.title = tune.title;
    sheet.composer = tune.composer;
    sheet.rights = tune.rights;
    sheet.corner = wish.instrument == nullptr ? "Concert pitch" : std::string(wish.instrument->name);
    sheet.running_order = fmt::format("Only the bars that differ: {}", wish.version);
    sheet.note = wish.idea;
    sheet.stamp = wish.stamp;
    sheet.software = "relead";
    sheet.paper = wish.paper;
    auto part = part_for(wish.instrument);
    if (bars.empty()) return sheet;

    SheetWish row;
    row.instrument = wish.instrument;
    row.show_melody = row.show_lyrics = row.show_ossia = row.show_soloist = false;
    row.show_replaced = true;
    row.changed = changed_of(bars);
    const auto slip = tune_of(tune, bars);
    const auto form = form_of(bars);
    auto built = build_part(slip, form, reading_for(wish.instrument, tune), row);
    for (std::size_t i = 0; i < bars.size(); ++i) {
        if (!bars[i].number.empty()) built.measures[i].number = bars[i].number;
    }
    part.measures = std::move(built.measures);
    sheet.pages = built.pages;
    sheet.systems_a_page = built.systems_a_page;
    sheet.parts.push_back(std::move(part));
    return sheet;
}

}  // namespace relead::arrange
