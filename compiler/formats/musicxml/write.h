// MusicXML 4.0, partwise (W3C Music Notation Community Group, June 2021; XSD namespace-less,
// root <score-partwise version="4.0">). The writer takes no musical decision: it spells the score.
// Deterministic: equal scores give equal bytes; no clock, no locale.
#pragma once

#include <string>

#include "score/score.h"

namespace relead::formats {

/// The whole document as UTF-8 with its XML declaration, ending with a line feed.
[[nodiscard]] std::string write_musicxml(const score::Score& score);

}  // namespace relead::formats
