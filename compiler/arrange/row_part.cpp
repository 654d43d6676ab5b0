#include "arrange/row_part.h"

#include <algorithm>

#include "arrange/sheet_marks.h"

namespace relead::arrange {

namespace {

/// Words that belong to a chord of this row and to no other.
bool belongs_to_chord(const score::Direction& direction) {
    return direction.kind == score::Direction::Kind::words && direction.style.small;
}

void keep_own_words(std::vector<score::Measure>& measures) {
    for (auto& measure : measures) {
        auto& list = measure.directions;
        list.erase(std::remove_if(list.begin(), list.end(),
                                  [](const auto& direction) { return !belongs_to_chord(direction); }),
                   list.end());
    }
}

Time time_of(const tune::Tune& tune, const tune::ChordRef& ref) {
    return tune::chord_at(tune, ref).at;
}

void add_notes(const SheetRow& row, const SheetForm& form, std::vector<score::Measure>& measures) {
    for (const auto& note : row.notes) {
        for (std::size_t i = 0; i < form.bars.size(); ++i) {
            if (form.bars[i].section != note.ref.section || form.bars[i].bar != note.ref.bar) continue;
            auto& list = measures[i].directions;
            // Over the staff: nothing of a row may come between the lowest staff and the reasons below it.
            const auto text = "(" + std::to_string(note.number) + ")";
            list.push_back(small_words(time_of(row.tune, note.ref), text, true));
            std::stable_sort(list.begin(), list.end(),
                             [](const auto& a, const auto& b) { return a.at < b.at; });
        }
    }
}

}  // namespace

std::vector<score::Measure> row_measures(const SheetRow& row, const SheetForm& form, const RowWish& wish) {
    SheetWish sheet;
    sheet.instrument = wish.instrument;
    sheet.show_melody = sheet.show_lyrics = sheet.show_hits = sheet.show_ossia = sheet.show_soloist = false;
    sheet.guide_tones = wish.guide_tones;
    sheet.changed = row.changed;
    auto measures = build_part(row.tune, form, reading_for(wish.instrument, row.tune), sheet).measures;
    if (!wish.top) keep_own_words(measures);
    add_notes(row, form, measures);
    return measures;
}

std::vector<score::Measure> melody_measures(const tune::Tune& tune, const SheetForm& form) {
    SheetWish wish;
    wish.show_hits = wish.show_ossia = wish.show_soloist = false;
    auto measures = build_part(tune, form, reading_for(nullptr, tune), wish).measures;
    for (auto& measure : measures) {
        measure.harmonies.clear();
        auto& list = measure.directions;
        list.erase(std::remove_if(list.begin(), list.end(), belongs_to_chord), list.end());
    }
    return measures;
}

bool has_melody(const tune::Tune& tune) {
    for (const auto& section : tune.sections) {
        for (const auto& bar : section.bars) {
            if (bar.melody) return true;
        }
    }
    return false;
}

}  // namespace relead::arrange
