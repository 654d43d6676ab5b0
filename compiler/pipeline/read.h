// The front of the compiler: a text as a checked tune, its key heard in the chords where it states none, and
// held against them where it states one.
#pragma once

#include <relead/outcome.h>

#include "text/limits.h"
#include "text/source.h"
#include "tune/tune.h"

namespace relead::pipeline {

/// tune::read_tune with the ear of the analysis, so that every command hears the same key.
[[nodiscard]] Outcome<tune::Tune> read_tune(const text::Source& source, const Limits& limits = {});

}  // namespace relead::pipeline
