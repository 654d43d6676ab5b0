// Stretches of a chorus in which chords do not lead on in the usual way.
#pragma once

#include "analysis/reading.h"

namespace relead::analysis {

/// Fills in modal, pedal, line, planing, turnaround.
void mark_stretches(ChorusReading& reading);

}  // namespace relead::analysis
