// Instruments: transposition, clef, ranges. The facts are grammar/instruments.txt.
#pragma once

#include <span>
#include <string_view>

#include "theory/note.h"

namespace relead::theory {

enum class Clef { treble, bass, grand, percussion };

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
/// The id that is nearest in spelling, for a "did you mean".
[[nodiscard]] std::string_view nearest_instrument(std::string_view word);

}  // namespace relead::theory
