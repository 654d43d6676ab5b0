#include "reharm/altered_symbol.h"

#include <algorithm>

namespace relead::reharm {
namespace {

bool alters_more_than_once(const theory::Chord& chord) {
    int altered = 0;
    for (const auto degree : theory::degrees(chord)) {
        if (degree.alteration == 0) {
            // A natural fifth may go; a natural ninth or thirteenth is a sound of its own.
            if (degree.number == 9 || degree.number == 13) return false;
            continue;
        }
        altered += degree.number >= 9 ? 1 : 0;
    }
    return altered >= 2;
}

bool fits(const theory::Chord& chord, int pitch_class) {
    const auto role = theory::role_of(chord, pitch_class);
    return role == theory::ToneRole::chord_tone || role == theory::ToneRole::available_tension;
}

}  // namespace

theory::Chord as_players_write(const rules::Melodies& melodies, int section, const TimedChord& chord) {
    if (theory::chord_class(chord.chord) != theory::ChordClass::dominant || chord.chord.upper ||
        !alters_more_than_once(chord.chord))
        return chord.chord;
    auto altered = chord.chord;
    altered.suffix.clear();
    altered.extra.clear();
    altered.quality = *theory::find_quality("7alt");
    const auto melody = melodies.between(section, chord.start, chord.start + chord.length);
    const bool all_fit = std::all_of(melody.notes.begin(), melody.notes.end(), [&](const auto& note) {
        const int pitch_class = theory::pitch_class(theory::name_of(note.pitch));
        return fits(altered, pitch_class) || !fits(chord.chord, pitch_class);
    });
    return all_fit ? altered : chord.chord;
}

}  // namespace relead::reharm
