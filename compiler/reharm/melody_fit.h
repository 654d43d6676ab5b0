// Melody against new chords, note by note: chord tone, tension, passing note or clash.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <relead/fraction.h>

#include "rules/sounding_melody.h"
#include "theory/chord.h"
#include "tune/tune.h"

namespace relead::reharm {

/// What is told of a melody that has nothing against a change and adds nothing to it.
inline constexpr std::string_view melody_fits = "The melody fits.";

enum class NoteFit { chord_tone, tension, passing, clash };
[[nodiscard]] std::string_view to_string(NoteFit fit);

/// What one note means against the chord that sounds with it.
struct NoteVerdict {
    theory::Pitch pitch;
    Place place;
    NoteFit fit = NoteFit::chord_tone;
    theory::Degree degree;        ///< of the chord's root
    bool held = false;            ///< sounds with this chord for a beat or more
    bool goes_by = false;         ///< short, and its steps and its place let the ear pass over it
    bool clashed_before = false;  ///< it clashed with the written chord too
    bool foreign_before = false;  ///< it was neither chord tone nor tension of the written chord
    bool tone_before = false;     ///< it was a tone of the written chord
    int chord = 0;                ///< index of the new chord that it sounds with
    Beats beats;                  ///< how long it sounds with this chord
};

struct MelodyVerdict {
    bool known = false;   ///< false: no melody is written there, so nothing was checked
    bool partly = false;  ///< some of the bars have none
    bool played = true;   ///< false on solos: it stands there, and nobody plays it
    std::vector<NoteVerdict> notes;
    /// New clashes: notes that clash now and did not with the written chord.
    [[nodiscard]] bool has_new_clash() const;
    /// Less than half of what sounds with new chord `chord` is a chord tone or a tension of it. What was
    /// foreign to the written chord too is not counted.
    [[nodiscard]] bool is_foreign_to(int chord) const;
    /// Two different tones or more sound with new chord `chord`, all of them of the written chord and none of
    /// the new one: together they say the written chord, though each by itself may be a tension.
    [[nodiscard]] bool spells_written(int chord) const;
    std::string sentence;  ///< what to tell the player: "E is the #9 of Db7.", "Melody unknown: not checked."
};

/// A chord of a span, in its time from the start of section `section`.
struct TimedChord {
    theory::Chord chord;
    Time start;
    Time length;
};

/// What a tone is over a chord: the chord's own degree, else the tension of that name.
[[nodiscard]] theory::Degree degree_over(const theory::Chord& chord, int pitch_class);

/// Judges the melody (the `melody` row, else `long`) of section `section` against `now`, with
/// `before` as the written chords over the same time. `key` matters in the blues, where the blues scale
/// of the tonic is at home over every dominant. `coloured`: what the melody added to symbols, in a sentence
/// that is told in place of held colours.
[[nodiscard]] MelodyVerdict judge_melody(const tune::Tune& tune, const rules::Melodies& melodies, int section,
                                         const theory::Key& key, const std::vector<TimedChord>& before,
                                         const std::vector<TimedChord>& now,
                                         const std::string& coloured = {});
/// The chord with the held altered melody tensions (b9, #9, #11, b13) that it can carry added to its symbol.
[[nodiscard]] theory::Chord with_melody_tensions(const tune::Tune& tune, const rules::Melodies& melodies,
                                                 int section, const TimedChord& chord);

}  // namespace relead::reharm
