#include "voicing/colours.h"

#include <algorithm>

#include "theory/chord_table.h"

namespace relead::voicing {

using theory::ChordClass;
using theory::Degree;

namespace {

bool has_seventh(const theory::Chord& chord) {
    const auto degrees = theory::degrees(chord);
    return std::any_of(degrees.begin(), degrees.end(),
                       [](Degree d) { return d.number == 7 || d.number == 6; });
}

bool contains(std::span<const Degree> degrees, Degree wanted) {
    return std::find(degrees.begin(), degrees.end(), wanted) != degrees.end();
}

}  // namespace

CompingFamily comping_family(const theory::Chord& chord) {
    const auto kind = theory::chord_class(chord);
    if (kind == ChordClass::power) return CompingFamily::power;
    if (!has_seventh(chord)) return CompingFamily::triad;
    switch (kind) {
        case ChordClass::minor:
            return CompingFamily::minor;
        case ChordClass::dominant:
            return CompingFamily::dominant;
        case ChordClass::suspended:
            return CompingFamily::suspended;
        case ChordClass::half_diminished:
            return CompingFamily::half_diminished;
        case ChordClass::diminished:
            return CompingFamily::diminished;
        default:
            return CompingFamily::major;
    }
}

Colours::Colours(const ChordToVoice& chord)
    : chord_(chord), degrees_(theory::degrees(chord.chord)), family_(comping_family(chord.chord)) {}

std::vector<Degree> Colours::stated(int number, int lower_number) const {
    std::vector<Degree> found;
    for (const auto degree : degrees_)
        if (degree.number == number || degree.number == lower_number) found.push_back(degree);
    return found;
}

bool Colours::welcome(Degree colour) const {
    if (family_ != CompingFamily::major && family_ != CompingFamily::minor &&
        family_ != CompingFamily::dominant && family_ != CompingFamily::suspended)
        return false;
    const auto row = theory::quality_row(chord_.chord.quality);
    if (!contains(row.tensions, colour) || contains(row.avoid, colour)) return false;
    const auto name = theory::tone(chord_.chord, colour);
    if (chord_.key && theory::is_diatonic(chord_.chord.root, *chord_.key) &&
        !theory::is_diatonic(name, *chord_.key))
        return false;
    const int pitch_class = theory::pitch_class(name);
    const unsigned beside = 1U << ((pitch_class + 1) % 12) | 1U << ((pitch_class + 11) % 12);
    return (chord_.melody & beside) == 0;
}

std::vector<Degree> Colours::of(int role) const {
    const auto guides = theory::guide_tones(chord_.chord);
    switch (role) {
        case 1:
            return stated(1, 1);
        case 3:
            return guides ? std::vector{guides->third} : std::vector<Degree>{};
        case 5:
            return stated(5, 5);
        case 7:
            if (!guides || guides->seventh.number < 6) return {};
            return {guides->seventh};
        case 11:
            return family_ == CompingFamily::suspended ? std::vector<Degree>{} : stated(11, 11);
        default:
            break;
    }
    auto found = stated(role, role == 9 ? 2 : 6);
    if (role == 9 && guides && guides->third.number == 2) return {};
    if (role == 13 && guides) std::erase(found, guides->seventh);
    if (found.empty() && welcome({role, 0})) found.push_back({role, 0});
    // A natural thirteenth rubs against a raised fifth, a natural ninth against nothing stated.
    return found;
}

int Colours::missing(const std::vector<Degree>& degrees) const {
    int count = 0;
    for (const auto degree : degrees_) {
        const bool colour = degree.number > 7 || (degree.number == 5 && degree.alteration != 0);
        if (colour && !contains(degrees, degree)) ++count;
    }
    return count;
}

std::vector<Degree> Colours::upper_structure() const {
    const auto& upper = chord_.chord.upper;
    if (!upper) return {};
    const auto third = upper->root + theory::interval_of_degree(3, upper->minor ? -1 : 0);
    const auto fifth = upper->root + theory::interval_of_degree(5, 0);
    std::vector<Degree> found;
    for (const auto name : {upper->root, third, fifth}) {
        const int semitones = theory::semitones_up(chord_.chord.root, name);
        found.push_back(theory::tension_degree(semitones));
    }
    return found;
}

}  // namespace relead::voicing
