// What a melody note means against a chord, from the tensions and avoid columns of the chord table.
#include <algorithm>

#include "theory/chord.h"
#include "theory/chord_table.h"

namespace relead::theory {

namespace {

bool names(std::span<const Degree> degrees, int semitones) {
    return std::any_of(degrees.begin(), degrees.end(),
                       [&](Degree d) { return semitones_above_root(d) == semitones; });
}

// A tension that the symbol prints shuts out the other colours of the same degree: over C7(b9) a held
// D is no colour any more, over C7(13) an A flat is none. b9 and #9 go together.
bool shut_out(const Chord& chord, int semitones) {
    const Degree asked = tension_degree(semitones);
    return std::any_of(chord.extra.begin(), chord.extra.end(), [&](Degree printed) {
        if (printed.number != asked.number || printed == asked) return false;
        return printed.number == 13 ||
               (printed.number == 9 && (printed.alteration == 0 || asked.alteration == 0));
    });
}

bool altered_fifth(const Chord& chord) {
    return std::any_of(chord.extra.begin(), chord.extra.end(), [](Degree d) { return d.number == 5; });
}

}  // namespace

ToneRole role_of(const Chord& chord, int pitch_class_of_note) {
    if (chord.is_none()) return ToneRole::chord_tone;
    const int note = ((pitch_class_of_note % 12) + 12) % 12;
    if ((pitch_class_set(chord) >> note & 1U) != 0) return ToneRole::chord_tone;
    const int above = semitones_up(pitch_class(chord.root), note);
    const QualityRow row = quality_row(chord.quality);
    if (names(row.avoid, above)) return ToneRole::avoid;
    if (above == semitones_above_root({5, 0}) && altered_fifth(chord)) return ToneRole::avoid;
    if (names(row.tensions, above))
        return shut_out(chord, above) ? ToneRole::avoid : ToneRole::available_tension;
    // The tone that was left out (C7(no5)) is still the chord's.
    return names(row.degrees, above) && !altered_fifth(chord) ? ToneRole::available_tension : ToneRole::clash;
}

ToneRole role_of(const Chord& chord, int pitch_class_of_note, const Key& key) {
    const ToneRole role = role_of(chord, pitch_class_of_note);
    if (key.mode != Mode::blues || chord_class(chord) != ChordClass::dominant) return role;
    if (role == ToneRole::chord_tone || role == ToneRole::available_tension) return role;
    constexpr Degree blues_scale[] = {{1, 0}, {3, -1}, {4, 0}, {5, -1}, {5, 0}, {7, -1}};
    const int above_tonic = semitones_up(pitch_class(key.tonic), pitch_class_of_note);
    return names(blues_scale, above_tonic) ? ToneRole::available_tension : role;
}

}  // namespace relead::theory
