// The chords of one chorus as an ear takes them in: pitch classes, sounds, places. What every
// other part of the analysis works on; it knows roots only as distances, so all keys are alike.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "tune/tune.h"

namespace relead::analysis {

/// Sounds that behave alike.
enum class Sound : std::uint8_t {
    major,          ///< triads, sixths, major sevenths, powers
    minor_seventh,  ///< m7 and its extensions
    half_diminished,
    minor,     ///< minor triad, m6, m(maj7)
    dominant,  ///< augmented triads too
    suspended,
    diminished,
};
[[nodiscard]] Sound sound_of(const theory::Chord& chord);
[[nodiscard]] bool is_dominant_like(Sound sound);       ///< dominant or suspended
[[nodiscard]] bool is_minor_seventh_like(Sound sound);  ///< minor seventh or half-diminished

/// A home or local key of the analysis: pitch class and mode.
struct Tonality {
    int tonic = 0;
    bool minor = false;
    friend bool operator==(const Tonality&, const Tonality&) = default;
};

/// One chord in playing order.
struct Heard {
    int written = 0;  ///< index among tune::written_chords
    int playing = 0;  ///< which playing of its section, 0-based
    const theory::Chord* chord = nullptr;
    int root = 0;  ///< pitch class
    Sound sound = Sound::major;
    bool simile = false;         ///< stands in a bar written `%`
    int bar = 0;                 ///< in playing order; the pickup counts to bar 0
    bool on_one = false;         ///< starts its bar
    bool opens_section = false;  ///< starts a playing of a section, its pickup left out
    bool to_bar_end = false;
    double start = 0;                ///< in bars
    double length = 1;               ///< in bars
    std::optional<Tonality> stated;  ///< key that its section states, where it is not the tune's own
    int level =
        0;  ///< strength of the boundary before it: 0 inside a bar, 1 bar, 2 two, 3 four, 4 eight, 5 sixteen
    int phrase = 0;        ///< which group of four bars; each playing of a section begins a new one
    int period = 0;        ///< which group of eight bars
    double in_period = 0;  ///< bars since that group began
};

struct Chorus {
    std::vector<Heard> chords;  ///< without N.C.
    int bars = 0;
    bool last = false;  ///< no other chorus comes after it
};

/// A plain chorus, or the last one with its own ending. The tune must outlive the chorus.
[[nodiscard]] Chorus hear(const tune::Tune& tune, bool last = false);

using theory::semitones_up;
/// Semitones from root up to root, 0..11.
[[nodiscard]] inline int semitones_up(const Heard& from, const Heard& to) {
    return semitones_up(from.root, to.root);
}
[[nodiscard]] inline bool same_chord(const Heard& a, const Heard& b) {
    return a.root == b.root && a.sound == b.sound;
}

/// The tonic chord of that mode (not the seventh chord of a blues).
[[nodiscard]] bool is_tonic_chord(const Heard& chord, const Tonality& key);

/// The pitch classes of a mode, as the home key of a modal tune states it.
using ModeScale = std::array<bool, 12>;
/// Every tone of the chord, its bass included, belongs to the scale.
[[nodiscard]] bool lies_in(const Heard& chord, const ModeScale& scale);

}  // namespace relead::analysis
