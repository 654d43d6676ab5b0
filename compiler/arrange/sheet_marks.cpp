#include "arrange/sheet_marks.h"

#include <array>
#include <utility>

#include "base/fmt.h"

namespace relead::arrange {

namespace {

using Kind = score::Direction::Kind;
using MarkKind = tune::Mark::Kind;

constexpr std::array<std::pair<std::string_view, std::string_view>, 10> feel_words{{
    {"swing", "Swing"},
    {"even", "Even eighths"},
    {"shuffle", "Shuffle"},
    {"bossa", "Bossa nova"},
    {"samba", "Samba"},
    {"latin", "Latin"},
    {"waltz", "Jazz waltz"},
    {"ballad", "Ballad"},
    {"funk", "Funk, even sixteenths"},
    {"rubato", "Rubato"},
}};

std::string groups_text(const tune::Meter& meter) {
    std::string text;
    for (const int group : meter.groups) text += (text.empty() ? "" : "+") + std::to_string(group);
    return text;
}

std::string feel_text(const tune::Tempo& tempo) {
    for (const auto& [feel, words] : feel_words) {
        if (tempo.feel == feel) return std::string(words);
    }
    return tempo.feel;
}

std::string tempo_words(const tune::Tempo& tempo, const tune::Meter& meter) {
    std::string text = feel_text(tempo);
    if (!tempo.words.empty()) text = text.empty() ? tempo.words : tempo.words + " (" + text + ")";
    if (!meter.groups.empty()) text += (text.empty() ? "" : ", ") + groups_text(meter);
    return text;
}

score::NoteValue beat_value(const tune::Meter& meter) {
    if (meter.is_compound()) return {4, 1};
    return {meter.unit, 0};
}

score::Direction tempo_direction(const tune::Tune& tune, const tune::Tempo& tempo, const tune::Meter& meter) {
    score::Direction direction;
    direction.kind = Kind::tempo;
    direction.text = tempo_words(tempo, meter);
    direction.style.bold = true;
    direction.beat = beat_value(meter);
    direction.beats_per_minute = tune.has_tempo ? tempo.beats_per_minute : 0;
    if (!tempo.feel.empty()) direction.swing = tempo.swings();
    return direction;
}

score::Direction words(Time at, std::string text, bool bold, bool italic) {
    score::Direction direction;
    direction.at = at;
    direction.text = std::move(text);
    direction.style.bold = bold;
    direction.style.italic = italic;
    return direction;
}

void add_mark(const tune::Mark& mark, score::Measure& measure) {
    auto& list = measure.directions;
    switch (mark.kind) {
        case MarkKind::text:
            list.push_back(words(0, mark.text, false, true));
            break;
        case MarkKind::stop_time_break:
            list.push_back(words(0, "Break", true, false));
            break;
        case MarkKind::ritard:
            list.push_back(words(0, "rit.", false, true));
            break;
        case MarkKind::a_tempo:
            list.push_back(words(0, "a tempo", false, true));
            break;
        case MarkKind::pedal:
            list.push_back(words(0, "pedal", false, true));
            break;
        default:
            break;  // signs of the form stand already; a fermata belongs to its note
    }
}

void add_section(const tune::Section& section, const SheetBar& at, score::Measure& measure) {
    score::Direction mark;
    mark.kind = Kind::rehearsal;
    mark.text = at.mark;
    const bool first_time = at.mark == section.name;
    measure.directions.push_back(std::move(mark));
    if (first_time && !section.title.empty())
        measure.directions.push_back(words(0, section.title, true, false));
}

/// A coda sign and a rehearsal mark do not go together on one beat: one reader loses one of them. The
/// section's name then stands as the sign's words.
bool name_the_coda(const std::string& mark, score::Measure& measure) {
    for (auto& direction : measure.directions) {
        if (direction.kind != Kind::coda) continue;
        if (mark != direction.text) direction.text += direction.text.empty() ? mark : " (" + mark + ")";
        return true;
    }
    return false;
}

void add_fermata(score::Measure& measure) {
    if (measure.voices.empty()) return;
    auto& elements = measure.voices.front().elements;
    if (!elements.empty()) elements.back().fermata = true;
}

std::string times_text(int times) {
    if (times == 2) return "twice";
    return std::to_string(times) + " times";
}

void add_detail(std::string& details, const std::string& text) {
    if (!details.empty()) details += ", ";
    details += text;
}

std::string item_text(const tune::RunningItem& item) {
    std::string text = item.name;
    if (item.times > 1) text += ", " + times_text(item.times);
    if (item.last) text += ", last time";
    std::string details;
    if (!item.vamp.empty()) add_detail(details, "after vamp " + item.vamp);
    if (item.open) add_detail(details, "open");
    if (item.each_soloist) add_detail(details, "each soloist");
    if (!item.soloist.empty()) add_detail(details, item.soloist);
    if (item.on_cue) add_detail(details, "on cue");
    if (item.changes == tune::RunningItem::Changes::written) add_detail(details, "written changes");
    if (item.tag)
        add_detail(details,
                   fmt::format("tag {} {} more", tune::to_string(*item.tag), times_text(item.tag_times)));
    return details.empty() ? text : text + " (" + details + ")";
}

}  // namespace

const tune::Tempo& tempo_at(const tune::Tune& tune, const SheetBar& at) {
    const auto& section = tune.sections[static_cast<std::size_t>(at.section)];
    const tune::Tempo* tempo = &section.tempo;
    for (int i = 0; i <= at.bar && i < static_cast<int>(section.bars.size()); ++i) {
        if (const auto& change = section.bars[static_cast<std::size_t>(i)].new_tempo) tempo = &*change;
    }
    return *tempo;
}

void add_marks(const tune::Tune& tune, const SheetBar& at, const tune::Tempo* tempo_before,
               score::Measure& measure) {
    const auto& section = tune.sections[static_cast<std::size_t>(at.section)];
    const auto& bar = section.bars[static_cast<std::size_t>(at.bar)];
    const auto& tempo = tempo_at(tune, at);
    if (at.opens_section && !name_the_coda(at.mark, measure)) add_section(section, at, measure);
    if (tempo_before == nullptr ? tune.has_tempo : !(*tempo_before == tempo)) {
        measure.directions.push_back(tempo_direction(tune, tempo, bar.meter));
    }
    for (const auto& mark : bar.marks) {
        add_mark(mark, measure);
        if (mark.kind == MarkKind::fermata) add_fermata(measure);
    }
    if (measure.repeat_ends > 2 && measure.ending_stop == score::EndingStop::none) {
        auto times = words(measure.length, std::to_string(measure.repeat_ends) + "\u00d7", true, false);
        measure.directions.push_back(std::move(times));
    }
}

std::string running_text(const tune::Tune& tune) {
    std::string text;
    for (const auto& item : tune.order.running) {
        if (!text.empty()) text += " \u00b7 ";
        text += item_text(item);
    }
    return text;
}

score::Direction small_words(Time at, std::string text, bool above) {
    auto direction = words(at, std::move(text), false, true);
    direction.style.small = true;
    direction.above = above;
    return direction;
}

}  // namespace relead::arrange
