// The canonical text of a tune: header lines in one order, bars of a row group right under each other,
// comments kept. tidy(parse(tidy(x))) == tidy(x).
#pragma once

#include <string>

#include "syntax/tune_tree.h"

namespace relead::syntax {

[[nodiscard]] std::string tidy(const TuneTree& tree);

}  // namespace relead::syntax
