// What a chord sounds like: its degrees and tones, its class, its guide tones, its normal form.
#include "theory/chord.h"

#include <algorithm>

#include "theory/chord_table.h"

namespace relead::theory {

namespace {

using Degrees = std::vector<Degree>;

bool has(const Degrees& degrees, Degree degree) {
    return std::find(degrees.begin(), degrees.end(), degree) != degrees.end();
}

// 2 = 9, 4 = 11, 6 = 13: the same letter above the root.
int letter_of(int number) {
    return (number - 1) % 7;
}

// Row and extra degrees together. An altered 5, 9 or 13 takes the natural one's place.
Degrees combine(const QualityRow& row, const Chord& chord) {
    Degrees out(row.degrees.begin(), row.degrees.end());
    for (const Degree extra : chord.extra) {
        if (extra.alteration != 0 && (extra.number == 5 || extra.number == 9 || extra.number == 13))
            std::erase_if(out, [&](Degree d) { return d.number == extra.number && d.alteration == 0; });
        if (!has(out, extra)) out.push_back(extra);
    }
    for (const int number : chord.omitted) std::erase_if(out, [&](Degree d) { return d.number == number; });
    std::sort(out.begin(), out.end());
    return out;
}

// May `extra` stand beside `other`, both on the same letter with different alterations?
bool may_meet(Degree extra, Degree other, int highest_of_row, bool other_is_of_row, ChordClass row_class) {
    if (extra.number == 5 && extra.alteration != 0)  // replaces the natural fifth; C7(b5,#5)
        return other.alteration == 0 ? other_is_of_row : row_class == ChordClass::dominant;
    if (letter_of(extra.number) == letter_of(9)) {
        if (extra.alteration != 0 && other.alteration != 0) return true;  // b9 and #9
        return other_is_of_row && extra.alteration != 0 && other.number == 9 &&
               highest_of_row > 9;  // C13(b9)
    }
    // The major seventh above a diminished seventh chord.
    return extra.number == 7 && extra.alteration == 0 && other.alteration == -2;
}

bool contradicts(const Chord& chord, const QualityRow& row) {
    int highest = 1;
    for (const Degree d : row.degrees) highest = std::max(highest, d.number);
    const auto clash = [&](Degree extra, Degree other, bool of_row) {
        return letter_of(extra.number) == letter_of(other.number) && extra.alteration != other.alteration &&
               !may_meet(extra, other, highest, of_row, row.chord_class);
    };
    for (std::size_t i = 0; i < chord.extra.size(); ++i) {
        for (const Degree d : row.degrees)
            if (clash(chord.extra[i], d, true)) return true;
        for (std::size_t k = 0; k < i; ++k)
            if (clash(chord.extra[i], chord.extra[k], false)) return true;
    }
    return false;
}

// The row with exactly these degrees; 0 when there is none.
QualityId equal_row(const Degrees& sounding) {
    for (std::size_t row = 1; row < quality_count(); ++row) {
        const auto degrees_of_row = quality_row(quality_at(row)).degrees;
        if (std::equal(degrees_of_row.begin(), degrees_of_row.end(), sounding.begin(), sounding.end()))
            return quality_at(row);
    }
    return quality_at(0);
}

// The degrees that a quality does not have itself.
Degrees beyond(const Degrees& sounding, QualityId quality) {
    const auto own = quality_row(quality).degrees;
    Degrees out;
    for (const Degree d : sounding)
        if (std::find(own.begin(), own.end(), d) == own.end()) out.push_back(d);
    return out;
}

// How well a row says these degrees: those it has, less the naturals that an altered one replaces;
// nothing when row and further degrees would sound otherwise or contradict each other.
std::optional<int> fit(QualityId quality, const Degrees& sounding) {
    const QualityRow row = quality_row(quality);
    const auto replaceable = [](Degree d) {
        return d.alteration == 0 && (d.number == 5 || d.number == 9 || d.number == 13);
    };
    for (const Degree d : row.degrees)
        if (!replaceable(d) && !has(sounding, d)) return std::nullopt;
    Chord candidate;
    candidate.quality = quality;
    candidate.extra = beyond(sounding, quality);
    const bool fourth = std::any_of(sounding.begin(), sounding.end(),
                                    [](Degree d) { return d.number == 4 || d.number == 2; });
    if (fourth != (row.chord_class == ChordClass::suspended))
        return std::nullopt;  // C7sus4(3) stays suspended
    if (contradicts(candidate, row) || combine(row, candidate) != sounding) return std::nullopt;
    const auto common = static_cast<int>(sounding.size() - candidate.extra.size());
    return 2 * common - static_cast<int>(row.degrees.size());
}

// The row that says most of these degrees; `otherwise` when no row can.
QualityId best_row(const Degrees& sounding, QualityId otherwise) {
    if (const QualityId equal = equal_row(sounding); equal.row != 0) return equal;
    QualityId best = otherwise;
    int best_fit = 0;
    for (std::size_t row = 1; row < quality_count(); ++row) {
        const auto this_fit = fit(quality_at(row), sounding);
        if (!this_fit || *this_fit <= best_fit) continue;
        best = quality_at(row);
        best_fit = *this_fit;
    }
    return best;
}

// A sixth beside a seventh is a thirteenth, unless the quality itself is a sixth chord; and what
// stands there as 2, 4 or 6 is not said again as 9, 11 or 13.
void name_once(Degrees& sounding, QualityId quality) {
    const bool seventh =
        std::any_of(sounding.begin(), sounding.end(), [](Degree d) { return d.number == 7; });
    for (const Degree d : beyond(sounding, quality))
        if (seventh && d.number == 6)
            std::replace(sounding.begin(), sounding.end(), d, Degree{13, d.alteration});
    const Degrees before = sounding;
    std::erase_if(sounding, [&](Degree d) { return has(before, {d.number - 7, d.alteration}); });
    std::sort(sounding.begin(), sounding.end());
    sounding.erase(std::unique(sounding.begin(), sounding.end()), sounding.end());
}

// Degrees of an upper triad above the chord's root, named as a player counts them.
Degrees upper_degrees(const Chord& chord) {
    Degrees out;
    const UpperStructure& upper = *chord.upper;
    const int base = semitones_up(chord.root, upper.root);
    for (const int step : {0, upper.minor ? 3 : 4, 7}) out.push_back(tension_degree(base + step));
    return out;
}

}  // namespace

bool normalise(Chord& chord) {
    if (chord.extra.empty() && chord.omitted.empty()) return true;
    const auto tidy = [](auto& list) {
        std::sort(list.begin(), list.end());
        list.erase(std::unique(list.begin(), list.end()), list.end());
    };
    tidy(chord.extra);
    tidy(chord.omitted);
    if (contradicts(chord, quality_row(chord.quality))) return false;
    Chord whole = chord;
    whole.omitted.clear();
    Degrees all = combine(quality_row(chord.quality), whole);
    name_once(all, best_row(all, chord.quality));
    Degrees sounding = all;
    std::erase_if(sounding, [&](Degree d) {
        return std::count(chord.omitted.begin(), chord.omitted.end(), d.number) > 0;
    });
    const QualityId equal = equal_row(sounding);
    if (equal.row != 0) chord.omitted.clear();  // C(no3) is C5
    chord.quality = equal.row != 0 ? equal : best_row(all, chord.quality);
    chord.extra = beyond(equal.row != 0 ? sounding : all, chord.quality);
    return true;
}

Chord chord_of_degrees(NoteName root, const std::vector<Degree>& sounding, QualityId preferred) {
    Chord chord;
    chord.root = root;
    chord.quality = preferred;
    chord.extra = beyond(sounding, preferred);
    for (const Degree own : quality_row(preferred).degrees)
        if (std::none_of(sounding.begin(), sounding.end(), [&](Degree d) { return d.number == own.number; }))
            chord.omitted.push_back(own.number);
    if (normalise(chord) && degrees(chord) == sounding) return chord;
    chord.omitted.clear();
    chord.quality = best_row(sounding, preferred);
    chord.extra = beyond(sounding, chord.quality);
    return chord;
}

std::optional<Chord> with_degree(const Chord& chord, Degree degree) {
    for (const Degree d : degrees(chord))
        if (semitones_above_root(d) == semitones_above_root(degree)) return chord;
    Chord out = chord;
    out.suffix.clear();
    out.extra.push_back(degree);
    if (!normalise(out)) return std::nullopt;
    return out;
}

ChordClass chord_class(const Chord& chord) {
    return quality_row(chord.quality).chord_class;
}

NoteName bass_of(const Chord& chord) {
    return chord.bass.value_or(chord.root);
}

bool is_two_over_dominant(const Chord& chord) {
    constexpr int fourth = 5;
    return chord_class(chord) == ChordClass::minor && chord.bass &&
           semitones_up(chord.root, *chord.bass) == fourth;
}

std::string_view quality_name(QualityId quality) {
    return quality_row(quality).name;
}

std::vector<Degree> degrees(const Chord& chord) {
    if (chord.is_none()) return {};
    Degrees out = combine(quality_row(chord.quality), chord);
    if (!chord.upper) return out;
    unsigned sounding = 0;
    for (const Degree d : out) sounding |= 1U << semitones_above_root(d);
    for (const Degree d : upper_degrees(chord))
        if ((sounding >> semitones_above_root(d) & 1U) == 0) out.push_back(d);
    std::sort(out.begin(), out.end());
    return out;
}

NoteName tone(const Chord& chord, Degree degree) {
    return chord.root + interval_of_degree(degree.number, degree.alteration);
}

std::vector<NoteName> tones(const Chord& chord) {
    std::vector<NoteName> out;
    for (const Degree degree : degrees(chord)) out.push_back(tone(chord, degree));
    return out;
}

unsigned pitch_class_set(const Chord& chord) {
    unsigned set = 0;
    for (const NoteName name : tones(chord)) set |= 1U << pitch_class(name);
    if (chord.bass) set |= 1U << pitch_class(*chord.bass);
    return set;
}

std::vector<GuideTones> guide_tone_choices(const Chord& chord) {
    const auto guides = quality_row(chord.quality).guides;
    std::vector<GuideTones> out;
    if (chord.is_none()) return out;
    const Degrees sounding = degrees(chord);
    // A guide tone that an extra degree moved is followed: C7(#5) has none, C(#5) would.
    const auto actual = [&](Degree d) {
        if (has(sounding, d)) return d;
        for (const Degree other : sounding)
            if (other.number == d.number) return other;
        return d;
    };
    for (std::size_t i = 1; i < guides.size(); ++i) out.push_back({actual(guides[0]), actual(guides[i])});
    return out;
}

std::optional<GuideTones> guide_tones(const Chord& chord) {
    const auto choices = guide_tone_choices(chord);
    if (choices.empty()) return std::nullopt;
    return choices.front();
}

Chord transpose(const Chord& chord, Interval by) {
    if (chord.is_none()) return chord;
    Chord out = chord;
    out.root = chord.root + by;
    if (chord.bass) out.bass = *chord.bass + by;
    if (chord.upper) out.upper->root = chord.upper->root + by;
    return out;
}

}  // namespace relead::theory
