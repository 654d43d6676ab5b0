// Pages of a score of several parts, and the notes below its systems.
#pragma once

#include <string>
#include <vector>

#include "score/score.h"

namespace relead::arrange {

/// Page breaks where systems of all parts no longer fit, and `end_notes` as lines at the foot of the first
/// page: readers of such files pass over texts on later ones. When there are more than a page holds, the last
/// line says how many were left out.
void break_pages(const std::vector<std::string>& end_notes, score::Score& sheet);

/// Text in lines of about `columns` characters; further lines of a paragraph are indented.
[[nodiscard]] std::vector<std::string> note_lines(const std::vector<std::string>& paragraphs,
                                                  std::size_t columns);

}  // namespace relead::arrange
