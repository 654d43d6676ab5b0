#include "reharm/where_it_goes.h"

#include <cstdlib>
#include <optional>
#include <utility>
#include <vector>

#include "reharm/soloist_row.h"
#include "reharm/sounding_bass.h"
#include "theory/guide_motion.h"
#include "tune/spot.h"

namespace relead::reharm {
namespace {

/// The written chord that sounds where a new chord ends.
const theory::Chord& band_chord(const rules::Chart& chart, const rules::Placement& placement,
                                const rules::NewChord& chord) {
    const auto end = chart.at(placement.begin).start + chord.at + chord.length;
    int spot = placement.begin;
    while (spot + 1 < placement.end && chart.at(spot).end() < end) ++spot;
    return chart.at(spot).chord;
}

/// What the soloist plays after a placement: where the author wrote a row for it, its chord.
const theory::Chord* chord_after(const rules::Chart& chart, const rules::Placement& placement,
                                 const Neighbours& around) {
    const auto& following = chart.at(placement.end - 1).next;
    if (following.empty()) return around.next;
    const auto& spot = chart.at(following.front());
    const auto* row = soloist_over(chart, spot);
    if (row == nullptr) return around.next;
    for (const auto& event : *row) {
        if (spot.bar_start + event.at + event.length > spot.start) return &event.chord;
    }
    return around.next;
}

struct Step {
    theory::NoteName from, to;
    int semitones = 0;
};

/// The smallest step into a chord, a falling one before a rising one; nothing beyond a whole step.
std::optional<Step> step_into(theory::NoteName from, const theory::Chord& next) {
    constexpr int whole_step = 2;
    std::optional<Step> best;
    for (const auto to : theory::tones(next)) {
        const int way = theory::nearest_way(theory::pitch_class(from), theory::pitch_class(to));
        const auto worth = [](int semitones) { return std::pair(std::abs(semitones), semitones > 0); };
        if (std::abs(way) > whole_step || (best && worth(best->semitones) <= worth(way))) continue;
        best = Step{readable(from), readable(to), way};
    }
    return best;
}

/// "Db falls to C and Ab to G", "F# rises to G", "B stays".
std::string told(const std::vector<Step>& steps) {
    std::vector<std::string> parts;
    const auto add = [&](const auto& goes, const char* verb) {
        bool first = true;
        for (const auto& step : steps) {
            if (!goes(step.semitones)) continue;
            const auto words = first ? std::string(" ") + verb + " to " : std::string(" to ");
            parts.push_back(theory::to_string(step.from) + words + theory::to_string(step.to));
            first = false;
        }
    };
    add([](int way) { return way < 0; }, "falls");
    add([](int way) { return way > 0; }, "rises");
    std::vector<std::string> held;
    for (const auto& step : steps) {
        if (step.semitones == 0) held.push_back(theory::to_string(step.from));
    }
    if (!held.empty()) parts.push_back(tune::listed(held) + (held.size() == 1 ? " stays" : " stay"));
    return tune::listed(parts);
}

}  // namespace

std::string where_it_goes(const rules::Chart& chart, const rules::Placement& placement,
                          const Neighbours& around) {
    const auto& chords = placement.chords;
    const auto* after = chord_after(chart, placement, around);
    std::string text;
    for (std::size_t i = 0; i < chords.size(); ++i) {
        const auto& chord = chords[i];
        const auto* next = i + 1 < chords.size() ? &chords[i + 1].chord : after;
        if (chord.kept_from || next == nullptr || next->is_none() || chord.chord.is_none()) continue;
        std::vector<Step> steps;
        for (const auto name : tones_beyond(band_chord(chart, placement, chord), chord.chord)) {
            if (auto step = step_into(name, *next)) steps.push_back(*step);
        }
        if (steps.empty()) continue;
        text += (text.empty() ? "" : " ") + theory::to_string(chord.chord) + " leads to " +
                theory::to_string(*next) + ": " + told(steps) + ".";
    }
    return text;
}

std::string reason_for(const Situation& situation, const rules::Placement& placement,
                       const Neighbours& around) {
    const auto& rule = situation.rules.rules[static_cast<std::size_t>(placement.leading().rule)];
    const bool superimposed = situation.plan.audience == rules::Audience::soloist;
    if (!superimposed || rule.audience == rules::Audience::soloist)
        return reason(situation.rules, placement, situation.chart.home, around);
    return where_it_goes(situation.chart, placement, around);
}

}  // namespace relead::reharm
