#include "voicing/bass_degrees.h"

#include <algorithm>
#include <set>

#include "theory/chord_table.h"
#include "theory/scale.h"

namespace relead::voicing {
namespace {

using theory::Degree;

bool is_slash(const theory::Chord& chord) {
    return chord.bass && theory::pitch_class(*chord.bass) != theory::pitch_class(chord.root);
}

/// Over a slash chord: the `count`th chord tone above the bass.
std::optional<int> tone_above_bass(const theory::Chord& chord, std::size_t count) {
    std::set<int> steps;
    for (const auto degree : theory::degrees(chord)) {
        if (degree.number > 7) continue;
        const int step = theory::semitones_up(*chord.bass, theory::tone(chord, degree));
        if (step > 2) steps.insert(step);
    }
    if (steps.size() < count) return std::nullopt;
    return *std::next(steps.begin(), static_cast<std::ptrdiff_t>(count - 1));
}

/// The chord's own degree of that number.
std::optional<Degree> own_degree(const theory::Chord& chord, int number) {
    const auto guides = theory::guide_tones(chord);
    if (number == 3 && guides) return guides->third;
    if (number == 7 && guides && guides->seventh.number == 7) return guides->seventh;
    for (const auto degree : theory::degrees(chord))
        if (degree.number == number) return degree;
    return number == 5 ? std::optional<Degree>({5, 0}) : std::nullopt;
}

/// A step of the scale around the chord.
std::optional<Degree> scale_step(const theory::Chord& chord, const std::optional<theory::Key>& key,
                                 int number) {
    std::optional<Degree> usual;
    if (const auto scale = theory::scale_for(chord))
        for (const auto degree : scale->degrees)
            if (degree.number == number && !usual) usual = degree;
    if (!key || !theory::is_diatonic(chord.root, *key)) return usual;
    if (usual && theory::is_diatonic(theory::tone(chord, *usual), *key)) return usual;
    for (const int alteration : {0, -1, 1})
        if (theory::is_diatonic(theory::tone(chord, {number, alteration}), *key))
            return Degree{number, alteration};
    return usual;
}

}  // namespace

std::optional<int> bass_step(const theory::Chord& chord, const std::optional<theory::Key>& key,
                             std::string_view word) {
    const bool lower = word.size() == 2 && word.front() == '-';
    if (lower) word.remove_prefix(1);
    if (word.size() != 1 || word.front() < '1' || word.front() > '8') return std::nullopt;
    const int number = word.front() - '0';
    const int octave = lower ? -12 : 0;
    if (number == 1) return octave;
    if (number == 8) return octave + 12;
    if (is_slash(chord)) {
        if (number != 3 && number != 5) return std::nullopt;
        const auto step = tone_above_bass(chord, number == 3 ? 1 : 2);
        return step ? std::optional(*step + octave) : std::nullopt;
    }
    auto degree = own_degree(chord, number);
    if (!degree) degree = scale_step(chord, key, number);
    if (!degree) return std::nullopt;
    return theory::semitones_above_root(*degree) + octave;
}

}  // namespace relead::voicing
