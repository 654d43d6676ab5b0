// Notes of the tune's own rows as they sound.
#pragma once

#include <vector>

#include "score/performance.h"
#include "tune/bar.h"

namespace relead::arrange {

/// Adds the notes of a bar that begins at `at`: ties joined, also to the bar before; grace notes just
/// before their note. `joins`: the last note in `notes` is tied into this bar. Returns whether the last
/// note of the bar is tied on.
bool add_notes(const std::vector<tune::NoteEvent>& row, Time at, int loudness, bool joins,
               std::vector<score::SoundingNote>& notes);

}  // namespace relead::arrange
