#include "arrange/lead_sheet.h"

#include "arrange/part_builder.h"
#include "arrange/reading.h"
#include "arrange/sheet_form.h"
#include "arrange/sheet_marks.h"

namespace relead::arrange {

namespace {

score::Part part_of(const theory::Instrument* instrument) {
    score::Part part;
    part.show_name = false;
    if (instrument == nullptr) {
        part.name = "Lead";
        part.abbreviation = "Ld.";
        return part;
    }
    part.name = instrument->name;
    part.abbreviation = instrument->abbreviation;
    part.sound = instrument->sound;
    part.midi_program = instrument->midi_program;
    return part;
}

std::string corner_text(const SheetWish& wish) {
    if (!wish.corner.empty()) return wish.corner;
    std::string text = wish.instrument == nullptr ? "Concert pitch" : std::string(wish.instrument->name);
    if (wish.guide_tones == GuideTones::staves) text += " \u00b7 guide tones";
    return text;
}

/// Millimetres: seven systems of two staves, with room for symbols and high notes between them.
constexpr double two_staves_height = 6.3;

/// Two staves where guide tones stand; the small one has small notes.
void set_staves(GuideTones guide_tones, score::Part& part) {
    constexpr int small = 70;
    if (guide_tones == GuideTones::none) return;
    part.staves = 2;
    if (guide_tones == GuideTones::small) part.second_staff_size = small;
}

}  // namespace

score::Score lead_sheet(const tune::Tune& tune, const SheetWish& wish) {
    score::Score sheet;
    sheet.title = tune.title;
    sheet.composer = tune.composer;
    sheet.lyricist = tune.lyricist;
    sheet.rights = tune.rights;
    sheet.corner = corner_text(wish);
    sheet.running_order = running_text(tune);
    sheet.note = tune.note;
    sheet.stamp = !wish.stamp.empty() ? wish.stamp : tune.stamp ? stamp_text(*tune.stamp) : "";
    sheet.software = "relead";
    sheet.paper = wish.paper;
    sheet.lettering = wish.lettering;

    const auto form = work_out_form(tune, wish.jumps);
    const auto reading = reading_for(wish.instrument, tune);
    auto built = build_part(tune, form, reading, wish);
    auto part = part_of(wish.instrument);
    part.measures = std::move(built.measures);
    set_staves(wish.guide_tones, part);
    if (part.staves > 1) sheet.staff_height = two_staves_height;
    sheet.pages = built.pages;
    sheet.systems_a_page = built.systems_a_page;
    sheet.parts.push_back(std::move(part));
    return sheet;
}

std::string stamp_text(const tune::VersionStamp& stamp) {
    std::string text;
    for (const auto& word : {stamp.plan, stamp.hash, stamp.date}) {
        if (word.empty()) continue;
        if (!text.empty()) text += " \u00b7 ";
        text += word;
    }
    return text;
}

}  // namespace relead::arrange
