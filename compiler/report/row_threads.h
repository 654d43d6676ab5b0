// Guide tones of a compared row: where each goes, and how many hold, step, skip and leap.
#pragma once

#include <cstddef>

#include "report/comparison.h"

namespace relead::report {

/// Sets the guide tones of row `row` in all bars and counts their motion. `version` may be null; with one, a
/// landing that the rule of a change declares is the one that counts. A triad's tone in the seventh's role
/// (1 or 5) is the one that moves least, chosen from the end of the chorus backwards, so that a thread which
/// arrives on a tone goes on from that tone.
void set_threads(Comparison& comparison, std::size_t row, const reharm::Version* version);

}  // namespace relead::report
