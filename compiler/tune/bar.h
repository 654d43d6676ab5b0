// One bar of a tune with everything that stands in it. Times inside a bar are offsets from its
// start as fractions of a whole note; every event knows the bytes that it was read from.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/outcome.h>

#include "theory/chord.h"
#include "theory/key.h"
#include "tune/meter.h"

namespace relead::tune {

/// Where a chord is played against where it is written. Moves notation and sound; no search moves it, though
/// the chord before a pushed one needs room to sound.
enum class Push { none, eighth_early, quarter_early, eighth_late };

struct ChordEvent {
    theory::Chord chord;
    Time at;
    Time length;
    Push push = Push::none;
    bool locked = false;  ///< `!`: no rule may touch it
    Span span;
};

/// A notated value: 1 whole, 2 half, 4 quarter … 32; with dots.
struct NoteValue {
    int denominator = 4;
    int dots = 0;
    friend bool operator==(const NoteValue&, const NoteValue&) = default;
};
/// `actual` notes in the time of `normal`.
struct Tuplet {
    int actual = 3;
    int normal = 2;
    bool begins = false;
    bool ends = false;
    friend bool operator==(const Tuplet&, const Tuplet&) = default;
};

struct NoteEvent {
    enum class Kind { note, rest, unknown };
    Kind kind = Kind::note;
    theory::Pitch pitch;  ///< concert pitch; meaningful for notes only
    Time at;
    Time length;  ///< sounding length: value × dots × tuplet
    NoteValue value;
    std::optional<Tuplet> tuplet;        ///< innermost
    std::optional<Tuplet> outer_tuplet;  ///< the one around it, when two are nested
    bool tied_to_next = false;
    int slurs_begin = 0;
    int slurs_end = 0;
    std::vector<theory::Pitch> grace;  ///< before the note, without time
    Span span;
};

struct Syllable {
    enum class Part { single, begin, middle, end };
    std::string text;
    Part part = Part::single;
    int note = 0;          ///< index into Bar::melody
    bool extends = false;  ///< melisma: held over the notes that follow
    int held = 0;          ///< how many notes it is held over, also in the bars that follow
};

struct HitEvent {
    enum class Kind { rest, brief, held };  // written r, x, X
    Kind kind = Kind::rest;
    Time at;
    Time length;
    NoteValue value;
    std::optional<Tuplet> tuplet;
    bool tied_to_next = false;
    Span span;
};

struct Mark {
    enum class Kind {
        segno,
        coda,
        to_coda,
        fine,
        da_capo,
        da_capo_al_fine,
        da_capo_al_coda,
        dal_segno,
        dal_segno_al_fine,
        dal_segno_al_coda,
        fermata,
        stop_time_break,
        ritard,
        a_tempo,
        pedal,
        text,
    };
    Kind kind = Kind::text;
    std::string text;  ///< for Kind::text
    Span span;
};

struct Bar {
    int number = 1;  ///< 1-based in its section; 0 for the pickup
    Meter meter;
    Time length;                         ///< meter.bar_length(), or less for a pickup
    std::optional<theory::Key> new_key;  ///< stated from this bar on (inside a section)
    bool opens_key = false;              ///< new_key was written `open` (then it is C major)
    std::optional<Meter> new_meter;
    std::optional<Tempo> new_tempo;

    std::vector<ChordEvent> changes;  ///< fills the bar; empty only in a pickup without chords
    bool simile = false;              ///< written as `%`
    std::optional<std::vector<ChordEvent>> ossia;
    std::optional<std::vector<ChordEvent>> soloist;
    std::optional<std::vector<NoteEvent>> melody;  ///< absent = unknown; a written rest is an event
    std::optional<std::vector<NoteEvent>> longs;
    std::optional<std::vector<NoteEvent>> bass;  ///< written bass figure: locks the bar against new roots
    std::optional<std::vector<HitEvent>> hits;
    std::vector<std::vector<Syllable>> lyrics;  ///< one list per verse
    std::vector<Mark> marks;

    bool repeat_begins = false;      ///< |:
    int repeat_ends = 0;             ///< :| number of playings in all (2 = plain repeat); 0 = none
    std::vector<int> ending_begins;  ///< [1 or [2,3; 0 stands for `last`
    bool ending_ends = false;
    bool double_bar_after = false;
    Span repeat_span;  ///< of the `:|`
    Span ending_span;  ///< of the `[1`
    Span span;
};

}  // namespace relead::tune
