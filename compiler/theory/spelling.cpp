// Practical spelling: what a player accepts on the stand, where strict spelling is right but hard.
#include <algorithm>

#include "theory/chord.h"

namespace relead::theory {

namespace {

constexpr Interval diminished_second{-12, 7};  // C# to Db: the same sound, one letter up

bool has_double_accidental(NoteName name) {
    return alteration(name) < -1 || alteration(name) > 1;
}

// C flat, F flat, E sharp, B sharp.
bool is_white_key_with_sign(NoteName name) {
    const int pitch = pitch_class(name);
    return alteration(name) != 0 && (pitch == 0 || pitch == 4 || pitch == 5 || pitch == 11);
}

/// The blue tones of a blues are no roots: Bb7 E7 Eb7, not Fb7.
Key without_blue_tones(const Key& key) {
    return key.mode == Mode::blues ? Key{key.tonic, Mode::major} : key;
}

bool is_legal(NoteName name, const Key& key) {
    return !has_double_accidental(name) &&
           (!is_white_key_with_sign(name) || is_diatonic(name, without_blue_tones(key)));
}

// The enharmonic name with at most one accidental that lies nearest to the key.
NoteName readable(NoteName name, const Key& key) {
    return respell_near(name, {std::clamp(key.tonic.fifths, -1, 3)});
}

// Leading-tone chords keep their sharp: #i°7, #iv°7.
bool leads_upwards(const Chord& chord) {
    const auto kind = chord_class(chord);
    return kind == ChordClass::diminished || kind == ChordClass::half_diminished;
}

// Far from the key although a near name exists: G#7 in F, Gb7 in E.
bool is_far(const Chord& chord, const Key& key) {
    const int from_tonic = chord.root - key.tonic;
    if (leads_upwards(chord)) return false;
    if (signature(key) < 0) return chord.root.fifths >= 7 && from_tonic > 6;
    return signature(key) > 0 && chord.root.fifths <= -6 && from_tonic < -6;
}

NoteName legal_bass(NoteName bass, const Chord& chord, const Key& key) {
    if (is_legal(bass, key)) return bass;
    if (!has_double_accidental(bass)) {  // the third of C#7 may stand below it as E#
        for (const NoteName name : tones(chord))
            if (name == bass) return bass;
    }
    return readable(bass, key);
}

Chord respelled(const Chord& chord, Interval by, const Key& key) {
    Chord out = transpose(chord, by);
    if (out.bass) out.bass = legal_bass(*out.bass, out, key);
    if (out.upper && has_double_accidental(out.upper->root)) out.upper->root = readable(out.upper->root, key);
    return out;
}

// Same letter, a half step apart: G#7 before G.
bool share_letter(const Chord& a, const Chord& b) {
    const int way = semitones_up(b.root, a.root);
    return letter(a.root) == letter(b.root) && (way == 1 || way == 11);
}

// `chord` under its other name, when that name is legal.
std::optional<Chord> other_name(const Chord& chord, const Key& key) {
    const Interval by = alteration(chord.root) > 0 ? diminished_second : -diminished_second;
    if (alteration(chord.root) == 0 || !is_legal(chord.root + by, key)) return std::nullopt;
    return respelled(chord, by, key);
}

}  // namespace

Chord practical_spelling(const Chord& chord, const Key& key) {
    if (chord.is_none()) return chord;
    const bool downwards = alteration(chord.root) > 0;
    const Interval by = downwards ? diminished_second : -diminished_second;
    Chord out = respelled(chord, {}, key);
    for (int tries = 0; tries < 4 && (!is_legal(out.root, key) || is_far(out, key)); ++tries) {
        const Chord next = respelled(out, by, key);
        if (is_far(out, key) && !is_legal(next.root, key)) break;
        out = next;
    }
    return out;
}

std::vector<Chord> practical_spelling(std::span<const Chord> row, const Key& key) {
    std::vector<Chord> out;
    out.reserve(row.size());
    for (const Chord& chord : row) out.push_back(practical_spelling(chord, key));
    for (std::size_t i = out.size(); i-- > 0;) {
        if (out[i].is_none() || is_diatonic(out[i].root, key)) continue;
        const bool has_next = i + 1 < out.size() && !out[i + 1].is_none();
        const bool has_last = i > 0 && !out[i - 1].is_none();
        const bool before_neighbour = has_next && share_letter(out[i], out[i + 1]);
        // The chord before decides only when the next one is no half step away.
        const int to_next = has_next ? semitones_up(out[i].root, out[i + 1].root) : 6;
        const bool after_neighbour = to_next != 1 && to_next != 11 && has_last &&
                                     share_letter(out[i], out[i - 1]) && !leads_upwards(out[i]);
        if (!before_neighbour && !after_neighbour) continue;
        if (const auto renamed = other_name(out[i], key)) out[i] = *renamed;
    }
    return out;
}

}  // namespace relead::theory
