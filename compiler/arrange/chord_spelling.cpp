#include "arrange/chord_spelling.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace relead::arrange {

namespace {

using theory::NoteName;

constexpr std::array<int, 3> respellings{0, -12, 12};  // fifths: as it is, flatwards, sharpwards

/// C flat, F flat, E sharp, B sharp: names of white keys.
bool is_white_key_accidental(NoteName name) {
    return theory::alteration(name) != 0 &&
           (name.fifths == -7 || name.fifths == -8 || name.fifths == 11 || name.fifths == 12);
}

/// How much a single name disturbs in its key.
int name_cost(NoteName name, const theory::Key& key) {
    if (std::abs(theory::alteration(name)) > 1) return 1000;
    if (is_white_key_accidental(name) && !theory::is_diatonic(name, key)) return 40;
    // From the flat second to the sharp fourth of the (relative) major tonic, names are usual.
    const int position = name.fifths - theory::signature(key);
    return 2 * std::max({0, -5 - position, position - 6});
}

/// Steps on the line of fifths of the plain interval that has so many semitones: minor and major
/// seconds and thirds, fourth, fifth and their inversions; the tritone goes either way.
constexpr std::array<int, 12> plain_fifths{0, 0, 2, -3, 4, -1, 0, 1, -4, 3, -2, 0};

/// How much two names in a row disturb.
int pair_cost(const theory::Chord& from, NoteName a, NoteName b) {
    const int distance = theory::semitones_up(a, b);
    if (distance == 0) return a == b ? 0 : 5;
    if (distance == 6) return 0;
    if (distance == 1 || distance == 11) {
        if (theory::letter_index(a) != theory::letter_index(b)) return 0;
        const auto kind = theory::chord_class(from);
        const bool leads =
            distance == 11 ? kind == theory::ChordClass::dominant : kind == theory::ChordClass::diminished;
        return leads ? 9 : 2;
    }
    if (b - a == plain_fifths[static_cast<std::size_t>(distance)]) return 0;
    return distance == 5 || distance == 7 ? 8 : 3;
}

NoteName moved(NoteName name, int fifths) {
    return {name.fifths + fifths};
}

theory::Chord respelled(theory::Chord chord, int fifths) {
    chord.root = moved(chord.root, fifths);
    if (chord.bass) chord.bass = moved(*chord.bass, fifths);
    if (chord.upper) chord.upper->root = moved(chord.upper->root, fifths);
    if (chord.bass && std::abs(theory::alteration(*chord.bass)) > 1) {
        chord.bass = moved(*chord.bass, theory::alteration(*chord.bass) > 0 ? -12 : 12);
    }
    return chord;
}

struct Step {
    int cost = 0;
    std::size_t from = 0;
};
using Column = std::array<Step, respellings.size()>;

int own_cost(const ChordToSpell& item, std::size_t choice) {
    const auto name = moved(item.chord.root, respellings[choice]);
    return name_cost(name, item.key) + (choice == 0 ? 0 : 1);
}

Column next_column(const ChordToSpell& before, const ChordToSpell& here, const Column& last) {
    Column column;
    for (std::size_t to = 0; to < respellings.size(); ++to) {
        const auto name = moved(here.chord.root, respellings[to]);
        bool any = false;
        for (std::size_t from = 0; from < respellings.size(); ++from) {
            const auto previous = moved(before.chord.root, respellings[from]);
            const int cost = last[from].cost + pair_cost(before.chord, previous, name);
            if (any && cost >= column[to].cost) continue;
            any = true;
            column[to] = {cost, from};
        }
        column[to].cost += own_cost(here, to);
    }
    return column;
}

std::vector<std::size_t> best_choices(const std::vector<const ChordToSpell*>& row) {
    std::vector<Column> columns;
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (i > 0) {
            columns.push_back(next_column(*row[i - 1], *row[i], columns.back()));
            continue;
        }
        Column first;
        for (std::size_t choice = 0; choice < first.size(); ++choice)
            first[choice].cost = own_cost(*row[0], choice);
        columns.push_back(first);
    }
    std::vector<std::size_t> choices(row.size());
    if (row.empty()) return choices;
    const auto& last = columns.back();
    auto best = std::min_element(last.begin(), last.end(),
                                 [](const Step& a, const Step& b) { return a.cost < b.cost; });
    auto choice = static_cast<std::size_t>(best - last.begin());
    for (std::size_t i = row.size(); i-- > 0;) {
        choices[i] = choice;
        choice = columns[i][choice].from;
    }
    return choices;
}

}  // namespace

std::vector<theory::Chord> spell_chords(const std::vector<ChordToSpell>& row) {
    std::vector<const ChordToSpell*> sounding;
    for (const auto& item : row) {
        if (!item.chord.is_none()) sounding.push_back(&item);
    }
    const auto choices = best_choices(sounding);
    std::vector<theory::Chord> spelled;
    std::size_t next = 0;
    for (const auto& item : row) {
        const int fifths = item.chord.is_none() ? 0 : respellings[choices[next++]];
        spelled.push_back(respelled(item.chord, fifths));
    }
    return spelled;
}

theory::Pitch spell_pitch(theory::Pitch strict, const theory::Key& key, const theory::Chord* chord,
                          int shift) {
    const auto enharmonic = [](theory::Pitch pitch, int fifths) {
        return pitch + theory::Interval{fifths, -fifths / 12 * 7};
    };
    const auto pitch = enharmonic(strict, shift);
    const auto name = theory::name_of(pitch);
    if (std::abs(theory::alteration(name)) < 2) {
        if (!is_white_key_accidental(name) || theory::is_diatonic(name, key)) return pitch;
        if (chord != nullptr && !chord->is_none()) {
            const auto tones = theory::tones(*chord);
            if (std::find(tones.begin(), tones.end(), name) != tones.end()) return pitch;
        }
    }
    return enharmonic(pitch, theory::alteration(name) > 0 ? -12 : 12);
}

}  // namespace relead::arrange
