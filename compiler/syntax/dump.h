// Compact, stable text of tokens and trees, for goldens and `--dump tokens|tree`.
#pragma once

#include <string>

#include "syntax/tune_tree.h"
#include "text/source.h"

namespace relead::syntax {

/// One thing a line, indented. Without spans two texts with the same dump say the same.
[[nodiscard]] std::string dump(const TuneTree& tree, bool with_spans = false);
/// One line of the text a line: its mode, then its tokens.
[[nodiscard]] std::string dump_tokens(const text::Source& source);

}  // namespace relead::syntax
