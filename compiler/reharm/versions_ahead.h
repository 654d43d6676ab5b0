// Versions chosen with a view to those after them: what the first one takes, the third one cannot have.
#pragma once

#include <vector>

#include "reharm/free_choice.h"

namespace relead::reharm {

/// At most `count` versions in order, fewer when no further one differs from those before. The first three
/// are chosen together and stand in the order that suits them best; how many are asked for changes none of
/// them.
[[nodiscard]] std::vector<GraphPath> versions_ahead(FreeChoice& choice, int count);

}  // namespace relead::reharm
