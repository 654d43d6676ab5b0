// The version stamp: the comment on top of a tune that Relead wrote.
#pragma once

#include <optional>
#include <vector>

#include "syntax/tune_tree.h"
#include "tune/tune.h"

namespace relead::tune {

/// The stamp among the comments above the tune's first line, when there is one.
[[nodiscard]] std::optional<VersionStamp> find_stamp(const std::vector<syntax::Comment>& comments);
/// `version "mild" 3f9a21c0 (Friday)`: the comment's text.
[[nodiscard]] std::string write_stamp(const VersionStamp& stamp);

}  // namespace relead::tune
