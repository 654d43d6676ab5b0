#include "reharm/touched.h"

#include <algorithm>

namespace relead::reharm {
namespace {

using rules::NewChord;

bool same_sound(const theory::Chord& a, const theory::Chord& b) {
    auto plain_a = a, plain_b = b;
    plain_a.suffix.clear();
    plain_b.suffix.clear();
    plain_a.root = plain_b.root = {};
    return theory::pitch_class(a.root) == theory::pitch_class(b.root) && plain_a.quality == plain_b.quality &&
           plain_a.extra == plain_b.extra && a.bass.has_value() == b.bass.has_value() &&
           (!a.bass || theory::pitch_class(*a.bass) == theory::pitch_class(*b.bass)) && a.upper == b.upper;
}

theory::Chord upper_part(theory::Chord chord) {
    chord.bass.reset();
    return chord;
}

/// No other tones than the written ones, whatever is in the bass: C/E over Cmaj7, Am6 over F#m7b5.
bool within(const theory::Chord& chord, const theory::Chord& written) {
    const auto upper = upper_part(chord);
    if (same_sound(upper, upper_part(written))) return true;
    if (chord.is_none() || written.is_none()) return false;
    return (theory::pitch_class_set(upper) & ~theory::pitch_class_set(written)) == 0;
}

/// From when a new chord sounds, in the time of its section.
Time start_of(const rules::Chart& chart, const rules::Placement& placement, const NewChord& chord) {
    return chart.at(placement.begin).start + chord.at;
}

/// The new chord that sounds with a written one from its start to its end; null when none does.
const NewChord* whole_time(const rules::Chart& chart, const rules::Placement& placement, int spot) {
    for (const auto& chord : placement.chords) {
        const auto from = start_of(chart, placement, chord);
        if (from <= chart.at(spot).start && from + chord.length >= chart.at(spot).end()) return &chord;
    }
    return nullptr;
}

bool keeps_upper_part(const rules::Chart& chart, const rules::Placement& placement, int spot) {
    return std::all_of(placement.chords.begin(), placement.chords.end(), [&](const NewChord& chord) {
        return !sounds_with(chart, placement, chord, spot) || within(chord.chord, chart.at(spot).chord);
    });
}

}  // namespace

bool touches(const Situation& situation, const rules::Placement& placement, int spot) {
    const auto& chart = situation.chart;
    const bool superimposed = situation.plan.audience == rules::Audience::soloist;
    if (superimposed && keeps_upper_part(chart, placement, spot)) return false;
    const auto* chord = whole_time(chart, placement, spot);
    return !chord || !same_sound(chord->chord, chart.at(spot).chord);
}

bool begins_as_written(const rules::Chart& chart, const rules::Placement& placement, int spot) {
    const auto& written = chart.at(spot);
    return std::any_of(placement.chords.begin(), placement.chords.end(), [&](const NewChord& chord) {
        const auto from = start_of(chart, placement, chord);
        return from <= written.start && written.start < from + chord.length &&
               same_sound(chord.chord, written.chord);
    });
}

bool sounds_with(const rules::Chart& chart, const rules::Placement& placement, const NewChord& chord,
                 int spot) {
    const auto from = start_of(chart, placement, chord);
    return from < chart.at(spot).end() && from + chord.length > chart.at(spot).start;
}

bool moves_the_bass(const rules::Placement& placement) {
    return std::any_of(placement.chords.begin(), placement.chords.end(),
                       [](const NewChord& chord) { return chord.chord.bass.has_value(); });
}

}  // namespace relead::reharm
