// Everything before the parts: work, identification, defaults, credits, part list.
#pragma once

#include <string>

#include "formats/musicxml/sink.h"
#include "score/score.h"

namespace relead::formats {

void write_head(Sink& sink, const score::Score& score);
/// Id of part `index`: "P1" for 0.
[[nodiscard]] std::string part_id(std::size_t index);

}  // namespace relead::formats
