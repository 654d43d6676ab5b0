// What a band sounds like, free of any file format: notes in time for each voice, tempo, meters and
// markers. MIDI files and the listening page are written from it. Times are fractions of a whole note
// from the start, as written (straight); swing is a property of the performance that a writer applies
// with `swung`, so that a listener may change it.
#pragma once

#include <string>
#include <vector>

#include <relead/fraction.h>

namespace relead::score {

struct SoundingNote {
    Time at;
    Time length;
    int key = 60;       ///< sounding pitch, 60 = middle C; on a drum voice the drum's number
    int loudness = 80;  ///< 1..127
};

struct SoundingVoice {
    enum class Role { melody, comping, bass, time, guide_tones };
    Role role = Role::melody;
    std::string name;                 ///< "Melody", "Piano", "Bass", "Drums"
    int program = 1;                  ///< 1-based, of the published list of instrument sounds; 0 for drums
    std::vector<SoundingNote> notes;  ///< by time, then key
    int kit = 1;                      ///< drums: General MIDI 2 drum kit, 1-based; 41 = brushes
};

struct TempoMark {
    Time at;
    double quarters_per_minute = 120;
};
struct MeterMark {
    Time at;
    int beats = 4;
    int unit = 4;
};
struct KeyMark {
    Time at;
    int fifths = 0;  ///< sharps (positive) or flats (negative)
    bool minor = false;
};
/// Swing from here on.
struct SwingMark {
    Time at;
    double swing = 0.5;
};
/// A place in the music that a listener looks for: "A", "B:1", "Solos".
struct Marker {
    Time at;
    std::string text;
};

struct Performance {
    std::string title;
    std::string name;    ///< which version: "written", "mild", "mild 2"
    Time count_in;       ///< length before the first bar; the music starts here
    Time length;         ///< of all, count-in included
    Time grid;           ///< where the quarters are counted from: the first full bar
    double swing = 0.5;  ///< where the second eighth of a quarter falls: 0.5 even, 2/3 triplet swing
    std::vector<SwingMark> swings;  ///< the first at 0, with `swing`; more where the feel changes
    std::vector<SoundingVoice> voices;
    std::vector<TempoMark> tempi;  ///< the first at 0
    std::vector<MeterMark> meters;
    std::vector<KeyMark> keys;
    std::vector<Marker> markers;
};

/// When a written moment sounds, in whole notes: inside each quarter the first half is stretched to
/// `swing` and the second pressed into what is left. Quarters are counted from `grid`. Moments that do not
/// halve the quarter (triplets, quintuplets) stay where they are.
[[nodiscard]] double swung(Time at, double swing, Time grid = 0);
/// The same with the swing that is in force at that moment. Where it changes quarters are counted anew, so
/// that a bar of seven eighths does not shift those after it.
[[nodiscard]] double swung(const Performance& performance, Time at);

/// Seconds from the start to a written moment, swing left aside.
[[nodiscard]] double seconds_at(const Performance& performance, Time at);

}  // namespace relead::score
