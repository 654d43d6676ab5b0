// One chorus of a version as it sounds: chords in time, beats, melody, bass. Read from the two tunes alone.
#pragma once

#include <optional>
#include <vector>

#include "theory/chord.h"
#include "tune/unfold.h"

namespace relead::bench {

/// Equal roots, qualities, tensions and basses, however they are spelled.
[[nodiscard]] bool same_sound(const theory::Chord& a, const theory::Chord& b);

struct Moment {
    theory::Chord chord;
    Time start, length;
    bool fresh = false;  ///< the written tune sounds otherwise where it begins
    [[nodiscard]] Time end() const { return start + length; }
};
struct Note {
    int midi = 60;
    Time start, length;
    [[nodiscard]] Time end() const { return start + length; }
};
struct PlayedMeasure {
    tune::PlayedBar bar;
    Time length;
    Time beat_length;
    double quarter_tempo = 120;
    std::vector<Time> strong;  ///< strong beats, from the start of the chorus
    bool starts_section = false;
};

struct Chorus {
    std::vector<Moment> chords;  ///< neighbours sound differently
    std::vector<PlayedMeasure> bars;
    std::vector<Note> melody;
    std::vector<int> bass;  ///< MIDI number per chord, each by the nearest way from the one before
    Time length;
    /// The chord that sounds at a time; null outside the chorus.
    [[nodiscard]] const Moment* at(Time time) const;
    [[nodiscard]] int index_at(Time time) const;  ///< -1 outside
    [[nodiscard]] std::optional<int> note_at(Time time) const;
};

/// One chorus of `version`, which has the sections and bars of `written`. `last` = with the last endings.
[[nodiscard]] Chorus play(const tune::Tune& written, const tune::Tune& version, bool last = false);

/// Share of the time in which two choruses of one tune sound differently.
[[nodiscard]] double difference(const Chorus& a, const Chorus& b);

}  // namespace relead::bench
