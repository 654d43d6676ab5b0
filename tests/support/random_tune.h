// Random syntax trees of tunes that hold everything the language has, without errors.
#pragma once

#include <random>

#include "syntax/tune_tree.h"

namespace relead::testing {

/// The same tree for the same generator state. Bars need not add up; all else is in order: rows have as
/// many cells as their changes, endings, tuplets and slurs are closed, comments stand in all places.
[[nodiscard]] syntax::TuneTree random_tune(std::mt19937& random);

}  // namespace relead::testing
