// How one player reads concert music: transposition, clef, octave, and the keys that come out.
#pragma once

#include <optional>
#include <vector>

#include "score/measure.h"
#include "theory/instrument.h"
#include "theory/key.h"
#include "tune/tune.h"

namespace relead::arrange {

struct Reading {
    theory::Clef clef = theory::Clef::treble;
    theory::Interval sounding_to_written;  ///< the instrument's own
    int octaves = 0;  ///< added to the melody so that it lies well; one choice for the whole tune

    /// Concert readers keep the author's spelling as it is.
    [[nodiscard]] bool transposes() const { return sounding_to_written.fifths != 0; }
};

/// A concert key as this player reads it.
struct KeyReading {
    theory::Key key;  ///< written key
    score::KeySignature signature;
    theory::Interval to_written;           ///< concert to written names, without `octaves`
    theory::Interval written_to_sounding;  ///< for the file; the inverse of `to_written`
};

/// A note as it sounds.
struct SoundingNote {
    int midi = 0;
    double length = 0;  ///< whole notes
};
/// Octaves to add so that the notes lie well on the instrument; 0 for none.
[[nodiscard]] int comfortable_octaves(const theory::Instrument& instrument,
                                      const std::vector<SoundingNote>& notes);

/// `instrument` null = concert pitch, treble clef. A grand staff is read in its treble clef.
[[nodiscard]] Reading reading_for(const theory::Instrument* instrument, const tune::Tune& tune);

/// Written key; beyond six sharps or flats the enharmonic key is read (a tune's own seven flats stay
/// for players who do not transpose).
[[nodiscard]] KeyReading read_key(const Reading& reading, const theory::Key& concert, bool open_key);

/// A melody or bass note as written, strictly spelled.
[[nodiscard]] theory::Pitch read_pitch(const Reading& reading, const KeyReading& key, theory::Pitch sounding);

/// The note in the middle of the staff, in the key's own spelling: where slashes stand.
[[nodiscard]] theory::Pitch slash_pitch(theory::Clef clef, const score::KeySignature& signature);
/// Where small figures over a melody stand, in the key's own spelling: on top of the staff, or a fifth
/// above `highest`, the highest written melody note.
[[nodiscard]] theory::Pitch pitch_above(theory::Clef clef, const score::KeySignature& signature,
                                        std::optional<theory::Pitch> highest);

}  // namespace relead::arrange
