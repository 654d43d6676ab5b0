#include "tune/estimate_key.h"

#include <algorithm>

#include "tune/unfold.h"

namespace relead::tune {
namespace {

using theory::ChordClass;
using theory::Mode;

struct Sounding {
    theory::Chord chord;
    ChordClass kind;
    double weight;
};

std::vector<Sounding> sounding_chords(const Tune& tune) {
    std::vector<Sounding> chords;
    for (const auto& played : played_chords(tune)) {
        const auto& chord = chord_at(tune, played.ref).chord;
        if (!chord.is_none())
            chords.push_back({chord, theory::chord_class(chord), played.length.to_double()});
    }
    return chords;
}

/// Natural minor, with the raised seventh over its dominant only; a blues counts as mixolydian.
bool belongs(theory::NoteName name, theory::NoteName root, const theory::Key& key) {
    const int place = name - key.tonic;
    switch (key.mode) {
        case Mode::minor:
            return (place >= -4 && place <= 2) || (place == 5 && root - key.tonic == 1);
        case Mode::blues:
            return place >= -2 && place <= 4;
        default:
            return place >= -1 && place <= 5;
    }
}

/// Share of the chord's tones inside the key, by its length.
double inside(const Sounding& sounding, const theory::Key& key) {
    const auto tones = theory::tones(sounding.chord);
    if (tones.empty()) return 0;
    const auto count = std::count_if(tones.begin(), tones.end(), [&](theory::NoteName name) {
        return belongs(name, sounding.chord.root, key);
    });
    return sounding.weight * static_cast<double>(count) / static_cast<double>(tones.size());
}

bool is_tonic_of(const Sounding& sounding, const theory::Key& key) {
    if (sounding.chord.root != key.tonic) return false;
    switch (key.mode) {
        case Mode::minor:
            return sounding.kind == ChordClass::minor;
        case Mode::blues:
            return sounding.kind == ChordClass::dominant;
        default:
            return sounding.kind == ChordClass::major;
    }
}

// Weights of this guess alone; the unit is a whole note of chords that lie in the scale.
constexpr double cadence_weight = 1.5, first_weight = 1.0, last_weight = 2.0, blues_weight = 0.25;

double score(const std::vector<Sounding>& chords, const theory::Key& key) {
    const auto fifth = key.tonic.fifths + 1, fourth = key.tonic.fifths - 1;
    double sum = 0;
    for (std::size_t i = 0; i < chords.size(); ++i) {
        sum += inside(chords[i], key);
        const bool tonic = is_tonic_of(chords[i], key);
        if (tonic && i > 0 && chords[i - 1].chord.root.fifths == fifth &&
            chords[i - 1].kind == ChordClass::dominant)
            sum += cadence_weight;
        // In a blues the sevenths of I and IV are its own, not foreign tones.
        if (key.mode == Mode::blues && chords[i].kind == ChordClass::dominant &&
            (tonic || chords[i].chord.root.fifths == fourth))
            sum += blues_weight * chords[i].weight;
    }
    if (is_tonic_of(chords.front(), key)) sum += first_weight;
    if (is_tonic_of(chords.back(), key)) sum += last_weight;
    return sum;
}

bool has_blues_chords(const std::vector<Sounding>& chords, theory::NoteName tonic) {
    const auto dominant_on = [&](int fifths) {
        return std::any_of(chords.begin(), chords.end(), [fifths](const Sounding& sounding) {
            return sounding.chord.root.fifths == fifths && sounding.kind == ChordClass::dominant;
        });
    };
    return dominant_on(tonic.fifths) && dominant_on(tonic.fifths - 1) && dominant_on(tonic.fifths + 1);
}

}  // namespace

theory::Key guess_key(const Tune& tune) {
    const auto chords = sounding_chords(tune);
    theory::Key best;
    if (chords.empty()) return best;
    double most = -1;
    std::vector<theory::NoteName> tried;
    for (const auto& sounding : chords) {
        const auto tonic = sounding.chord.root;
        if (std::find(tried.begin(), tried.end(), tonic) != tried.end()) continue;
        tried.push_back(tonic);
        for (const auto mode : {Mode::major, Mode::minor, Mode::blues}) {
            if (mode == Mode::blues && !has_blues_chords(chords, tonic)) continue;
            const theory::Key key{tonic, mode};
            const auto sum = score(chords, key);
            if (sum > most + 1e-9) {
                most = sum;
                best = key;
            }
        }
    }
    return best;
}

}  // namespace relead::tune
