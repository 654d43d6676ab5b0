// Instruments: transposition, clef, ranges. The facts are grammar/instruments.txt.
#pragma once

#include <span>
#include <string_view>

#include "theory/key.h"
#include "theory/note.h"

namespace relead::theory {

enum class Clef {
    treble,
    bass,
    grand,
    percussion,
    tenor_treble,  ///< treble clef with a small 8 below: sounds an octave lower than it looks
};

struct Instrument {
    std::string_view id;            ///< word of the command line: "alto-sax"
    std::string_view name;          ///< as printed: "Alto Sax"
    std::string_view abbreviation;  ///< "A. Sx."
    Clef clef = Clef::treble;
    /// Added to the written pitch to get the sounding one (alto: down a major sixth).
    Interval written_to_sounding;
    int low_written = 0, high_written = 0;          ///< whole range, written, MIDI numbers
    int low_comfortable = 0, high_comfortable = 0;  ///< comfortable range, written
    std::string_view sound;                         ///< MusicXML sounds.xml id
    int midi_program = 1;                           ///< 1-based, as in MusicXML; 0 for drums
};

[[nodiscard]] std::span<const Instrument> instruments();
/// By id, name or a listed alias, case-insensitive ("alto", "Alto Sax", "bari"); null when unknown.
[[nodiscard]] const Instrument* find_instrument(std::string_view word);
/// The id that is nearest in spelling, for a "did you mean"; empty when none is near.
[[nodiscard]] std::string_view nearest_instrument(std::string_view word);

/// What a part's key signature says, and the interval that its notes and chords follow.
struct PartKey {
    Key written;
    /// Added to written notes to get sounding ones. As the instrument's own, or a diminished second
    /// wider or narrower where the key was respelled.
    Interval written_to_sounding;
    friend bool operator==(const PartKey&, const PartKey&) = default;
};
/// The written key of a concert key for this instrument: beyond six sharps or flats the enharmonic
/// key is written instead (concert E for alto sax: D flat, a diminished seventh above). An instrument
/// that reads concert names keeps the key as the tune states it.
[[nodiscard]] PartKey part_key(const Key& concert, const Instrument& instrument);

}  // namespace relead::theory
