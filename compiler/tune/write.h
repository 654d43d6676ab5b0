// A tune back to text: what Relead writes when it made the tune (a version, an import). Read again it
// is the same tune (a property); comments are not the tune's, only its version stamp is.
#pragma once

#include <string>

#include "syntax/tune_tree.h"
#include "tune/tune.h"

namespace relead::tune {

/// The syntax tree that says this tune; its spans are empty.
[[nodiscard]] syntax::TuneTree to_tree(const Tune& tune);
/// Canonical text: syntax::tidy of the tree.
[[nodiscard]] std::string write_tune(const Tune& tune);

}  // namespace relead::tune
