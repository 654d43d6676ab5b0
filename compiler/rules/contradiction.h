// Demands of one rule that no chord, place or tune can meet together.
#pragma once

#include <string>

#include "rules/rule.h"

namespace relead::rules {

/// The first contradiction among what a rule asks, as a sentence; empty when none is plain to see.
[[nodiscard]] std::string contradiction(const Rule& rule);

}  // namespace relead::rules
