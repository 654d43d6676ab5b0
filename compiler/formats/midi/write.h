// A performance as a Standard MIDI File.
#pragma once

#include <string>

#include "score/performance.h"

namespace relead::formats {

/// Standard MIDI File 1.0 (MIDI Manufacturers Association, RP-001), format 1, 960 ticks a quarter. The first
/// track has the title, tempo, meters, keys and markers; each voice is a track with its name and program:
/// melody on channel 1, comping 2, bass 3, guide tones 4, drums 10. Swing is worked into the times. No
/// running status; note-offs come before note-ons of the same tick, and no key sounds twice at once on a
/// channel. Texts are UTF-8 (the specification leaves what lies beyond ASCII open).
[[nodiscard]] std::string write_midi(const score::Performance& performance);

}  // namespace relead::formats
