#include "formats/json/comparison.h"

#include <nlohmann/json.hpp>

#include "formats/json/guide_counts.h"
#include "text/render.h"

namespace relead::formats::json {

namespace {

using Json = nlohmann::ordered_json;

Json change_json(const report::ChangeRow& row) {
    Json json{{"place", row.place},
              {"old", row.old_changes},
              {"new", row.new_changes},
              {"rule", row.rule},
              {"outside", row.outside},
              {"guideTonesBefore", row.old_motion},
              {"guideTonesNow", row.new_motion},
              {"reason", row.reason},
              {"melody", row.melody}};
    if (!row.sounding.empty()) json["sounding"] = row.sounding;
    return json;
}

Json row_json(const report::ComparedRow& row) {
    Json changes = Json::array();
    for (const auto& change : row.changes) changes.push_back(change_json(change));
    return {{"name", row.name},
            {"idea", row.idea},
            {"soloist", row.soloist},
            {"stamp", row.stamp},
            {"changes", std::move(changes)},
            {"barsChanged", row.bars_changed},
            {"highestOutside", row.highest_outside},
            {"guideLine", guide_counts_json<Json>(row.guide_line)},
            {"melody",
             {{"chordTones", row.melody.chord_tones},
              {"tensions", row.melody.tensions},
              {"passing", row.melody.passing},
              {"clashes", row.melody.clashes},
              {"oldClashes", row.melody.old_clashes},
              {"changesWithoutMelody", row.melody.unchecked}}},
            {"search", row.search}};
}

Json number(const Fraction& value) {
    return value.is_whole() ? Json(value.numerator()) : Json(value.to_double());
}

Time beat_of(const report::ComparedBar& bar) {
    const bool compound = bar.unit == 8 && bar.beats % 3 == 0 && bar.beats > 3;
    return compound ? Time(3, 8) : Time(1, bar.unit);
}

Json guide_json(const report::GuideTone& tone) {
    const bool goes = !tone.move.empty();
    return {{"name", tone.name},
            {"pitchClass", tone.pitch_class},
            {"pitch", tone.pitch},
            {"to", goes ? Json(tone.to) : Json(nullptr)},
            {"semitones", goes ? Json(tone.semitones) : Json(nullptr)},
            {"move", goes ? Json(tone.move) : Json(nullptr)}};
}

Json chord_json(const report::ComparedBar& bar, const report::ComparedChord& chord) {
    Place place;
    place.section = bar.section;
    place.bar = bar.number;
    place.beat = chord.at / beat_of(bar) + Beats(1);
    Json tones = Json::array();
    for (const auto& tone : chord.guide_tones) tones.push_back(guide_json(tone));
    return {{"at", text::to_string(place)},
            {"beats", number(chord.length / beat_of(bar))},
            {"symbol", chord.symbol},
            {"changed", chord.changed},
            {"change", chord.change < 0 ? Json(nullptr) : Json(chord.change)},
            {"guideTones", std::move(tones)}};
}

Json bar_json(const report::ComparedBar& bar) {
    Place place;
    place.section = bar.section;
    place.bar = bar.number;
    Json rows = Json::array();
    for (const auto& row : bar.rows) {
        Json chords = Json::array();
        for (const auto& chord : row) chords.push_back(chord_json(bar, chord));
        rows.push_back(std::move(chords));
    }
    return {{"at", text::to_string(place)},
            {"section", bar.section},
            {"playing", bar.playing},
            {"number", bar.number},
            {"ending", bar.ending},
            {"meter", std::to_string(bar.beats) + "/" + std::to_string(bar.unit)},
            {"beats", number(bar.length / beat_of(bar))},
            {"rows", std::move(rows)}};
}

}  // namespace

std::string compare_document(const report::Comparison& comparison, const std::vector<std::string>& files) {
    Json rows = Json::array();
    for (const auto& row : comparison.rows) rows.push_back(row_json(row));
    Json bars = Json::array();
    for (const auto& bar : comparison.bars) bars.push_back(bar_json(bar));
    const Json document{
        {"title", comparison.title},
        {"composer", comparison.composer},
        {"key", comparison.key},
        {"meter", comparison.meter},
        {"tempo", {{"beatsPerMinute", comparison.beats_per_minute}, {"feel", comparison.feel}}},
        {"rows", std::move(rows)},
        {"bars", std::move(bars)},
        {"notes", comparison.notes},
        {"files", files}};
    // File names may hold any bytes; JSON may not.
    return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace relead::formats::json
