// From the text of a tune to its syntax tree. Not the tune itself: for that see tune/lower.h.
#pragma once

#include <relead/outcome.h>

#include "syntax/tune_tree.h"
#include "text/limits.h"
#include "text/source.h"

namespace relead::syntax {

/// Reads the whole text; after an error it goes on at the next bar sign, line or block word. The value
/// is always there (empty parts where nothing could be read). Places in diagnostics carry section
/// and bar. Linear in the length of the text.
[[nodiscard]] Outcome<TuneTree> parse_tune(const text::Source& source, const Limits& limits = {});

}  // namespace relead::syntax
