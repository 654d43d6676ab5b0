// The canonical text of a tune, also moved to another key.
#pragma once

#include <string>
#include <string_view>

#include <relead/outcome.h>

#include "text/limits.h"
#include "text/source.h"

namespace relead::pipeline {

/// `to_key`: empty, a tonic ("Bb") or a key ("Bb major", "G minor"); its mode must be the tune's
/// (ionian is major, aeolian is minor).
/// Errors of the text come along; an unknown key is `unknown-key`.
[[nodiscard]] Outcome<std::string> tidy(const text::Source& source, std::string_view to_key,
                                        const Limits& limits = {});

}  // namespace relead::pipeline
