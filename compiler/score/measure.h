// One measure of a part: attributes that change in it, bar lines and signs of the form, marks,
// chord symbols and voices.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/fraction.h>

#include "score/element.h"
#include "theory/chord.h"
#include "theory/instrument.h"
#include "theory/note.h"

namespace relead::score {

/// A printed signature: sharps (positive) or flats (negative), and the mode it is said in.
struct KeySignature {
    int fifths = 0;
    std::string mode;  ///< "major", "minor", "dorian" …; "" = no tonic claimed
    friend bool operator==(const KeySignature&, const KeySignature&) = default;
};

struct TimeSignature {
    int beats = 4;
    int unit = 4;
    std::vector<int> groups;  ///< 7/8 as 2+2+3; empty = not stated
    friend bool operator==(const TimeSignature&, const TimeSignature&) = default;
};

/// A chord symbol at the moment at which it is to be read.
struct Harmony {
    theory::Chord chord;  ///< at written pitch
    Time at;
    bool changed = false;  ///< not what the tune itself has here
    bool pushed = false;   ///< stands early or late against the beat that it belongs to
    int staff = 1;
};

struct TextStyle {
    bool bold = false;
    bool italic = false;
    bool small = false;
    friend bool operator==(const TextStyle&, const TextStyle&) = default;
};

/// A mark over or under the staff. At `at` = the measure's length it stands after its last note.
struct Direction {
    enum class Kind { rehearsal, words, tempo, segno, coda, to_coda, fine, da_capo, dal_segno };
    Kind kind = Kind::words;
    Time at;
    std::string text;    ///< the words; for segno, coda, to_coda and dal_segno the words beside the sign
    std::string target;  ///< name that ties a jump to its sign ("coda1"); segno, coda, to_coda, dal_segno
    bool above = true;
    TextStyle style;
    NoteValue beat;             ///< tempo: the value that is counted
    int beats_per_minute = 0;   ///< tempo: 0 = words only
    std::optional<bool> swing;  ///< tempo: true swing eighths, false even eighths
    int staff = 1;
};

enum class BarStyle { regular, double_bar, final_bar };

/// An ending bracket that begins with a measure.
struct Ending {
    std::vector<int> passes;  ///< the passes on which it is played, ascending
    std::string label;        ///< as printed: "1.", "2.-3.", "Last"
};
/// How a bracket ends with a measure: with a hook (closed) or open to the right.
enum class EndingStop { none, closed, open };

/// Whole measures in which the player sees slashes instead of notes.
enum class SlashStyle {
    none,
    beats,   ///< one stemless slash a beat
    rhythm,  ///< slashes with stems show the rhythm
};

enum class Break { none, system, page };

struct Measure {
    std::string number;     ///< as printed; "0" for a pickup
    bool implicit = false;  ///< shorter than the meter and not counted
    Time length;
    std::optional<KeySignature> key;          ///< present where it changes
    std::optional<TimeSignature> time;        ///< present where it changes
    std::optional<theory::Clef> clef;         ///< present where it changes
    std::optional<theory::Clef> second_clef;  ///< of the second staff, where there is one
    /// Added to a written pitch to get the sounding one; present in the first measure of a
    /// transposing part and where a new key is spelled on the other side of the circle of fifths.
    std::optional<theory::Interval> transposition;
    bool repeat_begins = false;
    int repeat_ends = 0;           ///< playings in all at a backward repeat sign; 0 = no sign
    std::optional<Ending> ending;  ///< a bracket begins here
    EndingStop ending_stop = EndingStop::none;
    BarStyle right = BarStyle::regular;
    SlashStyle slashes = SlashStyle::none;
    int rest_measures = 0;       ///< in the first of several empty measures: how many are shown as one block
    Break before = Break::none;  ///< a new system or page begins with this measure
    /// Tenths of a staff space over the system that begins here, where the one before needs more room below
    /// it than others; 0 = as everywhere.
    int room_above = 0;
    std::vector<Direction> directions;  ///< by time
    std::vector<Harmony> harmonies;     ///< by time
    std::vector<Voice> voices;          ///< by number
};

}  // namespace relead::score
