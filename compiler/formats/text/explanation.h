// What every chord does, as text for a terminal: chords and numerals, with arrows to what they depend on.
#pragma once

#include <string>

#include "formats/text/tables.h"
#include "report/explanation.h"

namespace relead::formats::text {

/// Four bars a line where they fit. Below the chords and numerals an arrow leads from each chord to the chord
/// that it prepares (thin) or prolongs (double); one that leads out of the line names the place,
/// with `again` when that chord has stood already and is played once more. A shade of a chord points back to
/// it.
[[nodiscard]] std::string print_explanation(const report::Explanation& explanation,
                                            const TextStyle& style = {});

}  // namespace relead::formats::text
