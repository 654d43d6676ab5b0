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

bool is_alt(const theory::Chord& chord) {
    return chord.quality == *theory::find_quality("7alt");
}

/// A colour beyond the flat ninth, or the flat ninth with another one, over another bass than the root:
/// B7#11/D#, G13b9/B.
bool two_things_at_once(const theory::Chord& chord) {
    if (!chord.bass || theory::chord_class(chord) != theory::ChordClass::dominant) return false;
    const auto degrees = theory::degrees(chord);
    const auto colours = std::count_if(degrees.begin(), degrees.end(),
                                       [](theory::Degree degree) { return degree.number >= 9; });
    return std::any_of(degrees.begin(), degrees.end(), [&](theory::Degree degree) {
        return degree.number >= 9 && degree.alteration != 0 &&
               (degree != theory::Degree{9, -1} || colours > 1);
    });
}

/// The flat thirteenth over a diminished seventh and nothing else: a tone that it has no place for.
bool has_a_stranger(const theory::Chord& chord) {
    return chord.extra == std::vector{theory::Degree{13, -1}};
}

/// What a dominant with its flat ninth over its third is when nothing else colours it: G7b9/B, Bdim7.
std::optional<theory::Chord> diminished_on_its_third(const theory::Chord& chord) {
    if (chord.quality != *theory::find_quality("7b9") || !chord.extra.empty()) return std::nullopt;
    theory::Chord diminished;
    diminished.root = theory::tone(chord, theory::Degree{3, 0});
    diminished.quality = *theory::find_quality("dim7");
    if (chord.bass != diminished.root) return std::nullopt;
    return diminished;
}

}  // namespace

bool slides(const theory::Chord& from, const theory::Chord& to) {
    if (theory::chord_class(from) != theory::ChordClass::dominant || to.is_none()) return false;
    const int up = theory::semitones_up(from.root, to.root);
    return up == 11 || up == 2;
}

theory::Chord as_players_write(const rules::Melodies& melodies, int section, const TimedChord& chord,
                               const theory::Chord* following) {
    if (following && slides(chord.chord, *following)) return chord.chord;
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

std::optional<std::string> unreadable(const theory::Chord& chord, const theory::Chord* following) {
    const auto symbol = theory::to_string(chord);
    if (following && is_alt(chord) && slides(chord, *following)) {
        const bool rises = theory::semitones_up(chord.root, following->root) == 2;
        return symbol + (rises ? " would rise a whole step to " : " would fall a half step to ") +
               theory::to_string(*following) + "; an altered dominant falls a fifth.";
    }
    if (two_things_at_once(chord)) return symbol + " is much to read at sight: a colour and another bass.";
    if (const auto shorter = diminished_on_its_third(chord))
        return symbol + " is the same as " + theory::to_string(*shorter) + ", which is easier to read.";
    const auto kind = theory::chord_class(chord);
    const bool has_symbols_of_its_own = kind == theory::ChordClass::dominant ||
                                        kind == theory::ChordClass::suspended ||
                                        kind == theory::ChordClass::diminished;
    if (!has_symbols_of_its_own || chord.extra.empty()) return std::nullopt;
    if (kind == theory::ChordClass::diminished && has_a_stranger(chord)) {
        auto plain = chord;
        plain.extra.clear();
        plain.suffix.clear();
        return theory::to_string(plain) + " has no place for " +
               theory::to_string(theory::tone(chord, chord.extra.front())) + ".";
    }
    return symbol + " is no symbol that anybody reads at sight.";
}

}  // namespace relead::reharm
