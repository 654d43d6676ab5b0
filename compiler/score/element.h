// What stands in a voice of a measure: notes, rests and slashes with everything that a reader
// needs to draw them. All pitches are written pitches; all times are offsets from the start of
// the measure as fractions of a whole note.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/fraction.h>

#include "theory/note.h"

namespace relead::score {

/// A notated value: 1 whole, 2 half, 4 quarter … 64; with dots.
struct NoteValue {
    int denominator = 4;
    int dots = 0;
    friend bool operator==(const NoteValue&, const NoteValue&) = default;
    /// Its length without tuplets: a dotted quarter is 3/8.
    [[nodiscard]] Time length() const;
};

/// `actual` notes in the time of `normal`; `begins` and `ends` mark the bracket's ends.
struct Tuplet {
    int actual = 3;
    int normal = 2;
    bool begins = false;
    bool ends = false;
    friend bool operator==(const Tuplet&, const Tuplet&) = default;
};

/// A sign to be printed, worked out from key signature and bar; never left to the reader.
enum class Accidental { double_flat, flat, natural, sharp, double_sharp };
enum class Notehead { normal, slash, cross };
enum class Stem { automatic, none, up, down };
/// One state per beam level, the eighth's beam first.
enum class Beam { begin, middle, end, forward_hook, backward_hook };
enum class Articulation { accent, strong_accent, staccato, tenuto };

/// One head of a note or chord.
struct Head {
    theory::Pitch pitch;
    std::optional<Accidental> accidental;
    bool courtesy = false;  ///< the accidental only reminds; the signature already says so
    bool tie_begins = false;
    bool tie_ends = false;
};

struct Lyric {
    enum class Syllabic { single, begin, middle, end };
    int verse = 1;
    std::string text;
    Syllabic syllabic = Syllabic::single;
    bool extends = false;  ///< held over the notes that follow
};

struct Element {
    enum class Kind {
        note,  ///< has heads; also slashes
        rest,
        bar_rest,  ///< a whole bar's rest, whatever the meter
        gap,       ///< time in which this voice prints nothing
    };
    Kind kind = Kind::note;
    Time at;
    Time length;  ///< 0 for grace notes
    NoteValue value;
    std::optional<Tuplet> tuplet;
    std::vector<Head> heads;               ///< lowest first
    std::optional<theory::Pitch> rest_at;  ///< where a rest stands on the staff when two voices share it
    Notehead notehead = Notehead::normal;
    Stem stem = Stem::automatic;
    bool grace = false;
    bool cue = false;          ///< small: somebody else's notes, or the rhythm section's figure
    bool silent = false;       ///< makes no sound when a program plays the sheet (slashes)
    bool highlighted = false;  ///< stands under a changed chord
    bool fermata = false;
    std::vector<Beam> beams;
    int slurs_begin = 0;
    int slurs_end = 0;
    std::vector<Articulation> articulations;
    std::vector<Lyric> lyrics;

    [[nodiscard]] bool is_note() const { return kind == Kind::note; }
    [[nodiscard]] Time end() const { return at + length; }
};

/// A voice fills its measure from the start to the end without holes. Voices are numbered 1..4 on
/// the first staff and 5..8 on the second.
struct Voice {
    int number = 1;
    int staff = 1;
    std::vector<Element> elements;
};

}  // namespace relead::score
