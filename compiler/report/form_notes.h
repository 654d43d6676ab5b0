// What a reader must know when two tunes of different form stand one above the other.
#pragma once

#include <string>
#include <vector>

#include "report/row_line.h"

namespace relead::report {

/// Sentences about `other`, called `name`: another key, another form, other bar lines, a pickup, more or
/// fewer bars. Empty when its bars and key are those of `written`.
[[nodiscard]] std::vector<std::string> form_notes(const tune::Tune& written, const RowLine& written_line,
                                                  const tune::Tune& other, const RowLine& other_line,
                                                  const std::string& name);

}  // namespace relead::report
