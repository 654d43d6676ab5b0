// Keys, modes, signatures and numerals.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "theory/note.h"

namespace relead::theory {

enum class Mode { major, minor, blues, ionian, dorian, phrygian, lydian, mixolydian, aeolian, locrian };

/// A tonic with its mode. `blues` has the signature of the major key and dominant tonics.
struct Key {
    NoteName tonic;
    Mode mode = Mode::major;
    friend bool operator==(const Key&, const Key&) = default;
};

/// Signature as sharps (positive) or flats (negative), e.g. F major -1, C minor -3, D dorian 0.
[[nodiscard]] int signature(const Key& key);
/// True for minor, dorian, phrygian, aeolian, locrian.
[[nodiscard]] bool is_minor_like(const Key& key);
/// True for the modes other than major, minor and blues.
[[nodiscard]] bool is_modal(const Key& key);
/// "F major", "Bb minor", "F blues", "D dorian".
[[nodiscard]] std::string to_string(const Key& key, bool unicode = false);
[[nodiscard]] std::string_view mode_name(Mode mode);
[[nodiscard]] std::optional<Mode> parse_mode(std::string_view word);
/// True also for two words for one scale: ionian is major, aeolian is minor.
[[nodiscard]] bool is_same_mode(Mode one, Mode other);
[[nodiscard]] Key transpose(const Key& key, Interval by);
/// The enharmonic key with at most 6 accidentals where there is one (C# major -> Db major).
/// Seven accidentals are kept when `keep_seven` (a tune may state Cb major).
[[nodiscard]] Key practical_key(const Key& key, bool keep_seven = false);

/// Degree of `name` counted from the major scale of the key's tonic, in minor too:
/// degree 1..7 and alteration (E♭ in C: 3, -1).
struct ScaleDegree {
    int degree = 1;
    int alteration = 0;
    friend bool operator==(const ScaleDegree&, const ScaleDegree&) = default;
};
[[nodiscard]] ScaleDegree scale_degree(NoteName name, NoteName tonic);
/// "bIII", "#IV", "V"; the quality suffix is added by the chord's numeral.
[[nodiscard]] std::string to_string(const ScaleDegree& degree);
[[nodiscard]] std::optional<ScaleDegree> parse_scale_degree(std::string_view roman);
[[nodiscard]] NoteName note_at(NoteName tonic, const ScaleDegree& degree);
/// True when the name belongs to the key's scale (minor: natural, plus raised 6 and 7).
[[nodiscard]] bool is_diatonic(NoteName name, const Key& key);

}  // namespace relead::theory
