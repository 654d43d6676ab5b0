#include "analysis/numerals.h"

#include <algorithm>
#include <array>

#include "theory/chord_table.h"

namespace relead::analysis {
namespace {

using theory::ScaleDegree;

constexpr std::array<ScaleDegree, 12> flat_names = {
    {{1, 0}, {2, -1}, {2, 0}, {3, -1}, {3, 0}, {4, 0}, {5, -1}, {5, 0}, {6, -1}, {6, 0}, {7, -1}, {7, 0}}};
constexpr std::array<ScaleDegree, 12> sharp_names = {
    {{1, 0}, {1, 1}, {2, 0}, {2, 1}, {3, 0}, {4, 0}, {4, 1}, {5, 0}, {5, 1}, {6, 0}, {6, 1}, {7, 0}}};

ScaleDegree name_of_root(int half_steps, Sound sound, Leading leading) {
    const auto at = static_cast<std::size_t>(half_steps);
    if (sound == Sound::diminished) return leading == Leading::upwards ? sharp_names[at] : flat_names[at];
    const bool raised = half_steps == 6 || half_steps == 1 || half_steps == 8;
    if (sound == Sound::half_diminished && raised) return sharp_names[at];
    if (half_steps == 6 && (sound == Sound::minor || sound == Sound::minor_seventh)) return sharp_names[at];
    return flat_names[at];
}

/// A bass that the chord has as its third, fifth, sixth or seventh is called so; any other by its usual name.
ScaleDegree name_of_bass(int half_steps, const theory::Chord& chord) {
    for (const auto degree : theory::degrees(chord))
        if (degree.number <= 7 && theory::semitones_above_root(degree) == half_steps)
            return {degree.number, degree.alteration};
    const bool raised_fourth = half_steps == 6;
    return raised_fourth ? ScaleDegree{4, 1} : flat_names[static_cast<std::size_t>(half_steps)];
}

/// Down by a half step, in the root or in a written bass, or coming down so from the chord before; else up.
Leading leading_of(const ChorusReading& reading, int i) {
    const int next = std::max(0, reading.next_other(i));  // after the last chord the first
    const auto& goal = reading.at(next);
    const auto& bass = goal.chord->bass;
    const int by_root = semitones_up(reading.at(i), goal);
    const int by_bass = bass ? semitones_up(reading.at(i).root, theory::pitch_class(*bass)) : by_root;
    if (by_root == 1 || by_bass == 1) return Leading::upwards;
    if (by_root == 11 || by_bass == 11) return Leading::downwards;
    const int before = reading.before_run(i);
    return before >= 0 && semitones_up(reading.at(before), reading.at(i)) == 11 ? Leading::downwards
                                                                                : Leading::upwards;
}

/// "V" of "V7", "bVI" of "bVImaj7": what stands after the stroke of an applied chord. Degrees of the
/// key are written as the key has them, whatever stands there now (V7/ii before II7 too).
std::string roman_of(const ChorusReading& reading, int goal, const Tonality& key, theory::NoteName tonic) {
    const auto full = plain_numeral(*reading.at(goal).chord, tonic);
    auto end = full.find_first_not_of("b#");
    end = full.find_first_not_of("iIvV", end);
    auto roman = full.substr(0, end);
    const int degree = semitones_up(key.tonic, reading.at(goal).root);
    const bool small = !key.minor && (degree == 2 || degree == 4 || degree == 9);
    if (small)
        std::transform(roman.begin(), roman.end(), roman.begin(), [](char c) {
            return c == 'I' ? 'i' : c == 'V' ? 'v' : c;
        });
    return roman;
}

bool belongs_to(const Heard& chord, const Tonality& key) {
    const int degree = semitones_up(key.tonic, chord.root);
    if (key.minor) return chord.sound == Sound::half_diminished ? degree == 2 : degree == 0 || degree == 5;
    if (chord.sound == Sound::half_diminished) return false;  // Bm7b5 E7 in C is iiø7/vi V7/vi
    return degree == 2 || degree == 4 || degree == 9;
}

/// "subV7" for a chord of a dominant's sound, whatever its root.
std::string substitute_numeral(const std::string& plain) {
    const auto suffix = plain.find_first_not_of("b#iIvV");
    return "subV" + (suffix == std::string::npos ? std::string() : plain.substr(suffix));
}

/// "/ii" for a substitute on bIII: the degree a half step below; nothing for the tonic.
std::string below_stroke(int degree, const Tonality& key) {
    switch ((degree + 11) % 12) {
        case 2:
            return "/ii";
        case 5:
            return key.minor ? "/iv" : "/IV";
        case 7:
            return "/V";
        case 9:
            return "/vi";
        default:
            return "";
    }
}

}  // namespace

std::string plain_numeral(const theory::Chord& chord, theory::NoteName tonic, Leading leading) {
    if (chord.is_none()) return theory::numeral(chord, tonic);
    const int root = theory::pitch_class(chord.root);
    auto named = chord;
    named.root = theory::note_at(
        tonic, name_of_root(semitones_up(theory::pitch_class(tonic), root), sound_of(chord), leading));
    if (chord.bass)
        named.bass = theory::note_at(
            named.root, name_of_bass(semitones_up(root, theory::pitch_class(*chord.bass)), chord));
    return theory::numeral(named, tonic);
}

std::string numeral_of(const ChorusReading& reading, const std::vector<Duty>& duties, int i,
                       theory::NoteName local_tonic) {
    const auto& chord = reading.at(i);
    const auto& key = reading.local[static_cast<std::size_t>(i)];
    const auto& duty = duties[static_cast<std::size_t>(i)];
    const auto plain = plain_numeral(*chord.chord, local_tonic, leading_of(reading, i));
    if (duty.function == Function::substitute_dominant && (duty.goal < 0 || duty.by_fifth))
        return substitute_numeral(plain) + below_stroke(semitones_up(key.tonic, chord.root), key);
    if (duty.goal < 0) return plain;
    const auto& goal = reading.at(duty.goal);
    const auto goal_tonic = goal.chord->root;
    const bool to_tonic = goal.root == key.tonic;
    const auto stroke = "/" + roman_of(reading, duty.goal, key, local_tonic);
    switch (duty.function) {
        case Function::dominant:
            if (to_tonic) return plain;
            return plain_numeral(*chord.chord, goal_tonic) + stroke;
        case Function::substitute_dominant: {
            const auto name = substitute_numeral(plain);
            return to_tonic ? name : name + stroke;
        }
        case Function::predominant: {
            const auto& dominant = duties[static_cast<std::size_t>(std::max(0, reading.next_other(i)))];
            const bool serves = dominant.function == Function::dominant ||
                                (dominant.function == Function::substitute_dominant && !dominant.by_fifth &&
                                 semitones_up(chord.root, goal.root) == 10);  // Gm7 Gb7 Fmaj7
            if (to_tonic || !duty.related_ii || !serves || belongs_to(chord, key)) return plain;
            return plain_numeral(*chord.chord, goal_tonic) + stroke;
        }
        default:
            return plain;
    }
}

}  // namespace relead::analysis
