// A tune or a version of it as a MIDI file in memory.
#pragma once

#include <string>

#include "pipeline/compile.h"
#include "score/performance.h"

namespace relead::pipeline {

/// What the band sounds like. `one_chorus`: for listening and comparing, without count-in and running order.
[[nodiscard]] score::Performance performance_of(const tune::Tune& tune, bool one_chorus = false);
/// Of a version: choruses that its plan is not for stay on the written changes. For a soloist's version the
/// band stays on them throughout and the superimposed guide tones sound in a voice of their own.
[[nodiscard]] score::Performance performance_of(const Compiled& compiled, std::size_t version,
                                                bool one_chorus = false);

/// stem.mid
[[nodiscard]] File midi_file(const tune::Tune& tune, const std::string& stem);
/// stem.mild.mid
[[nodiscard]] File midi_file(const Compiled& compiled, std::size_t version, const std::string& stem);

}  // namespace relead::pipeline
