// Pages of a score of several parts with texts below its systems.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "arrange/sheet_form.h"
#include "score/score.h"

namespace relead::arrange {

/// Where lines break: decided once for all parts, by the notes of the first one and the widest symbols of
/// each bar.
void break_lines_alike(const SheetForm& form, score::Score& sheet);

/// The measures with which systems begin; the first is 0. Empty for a part without measures.
[[nodiscard]] std::vector<std::size_t> system_starts(const score::Part& part);

/// Writes `texts[i]`, paragraphs, below the last staff of system i, and breaks pages where systems and texts
/// no longer fit: neither in the sheet's staff size nor for readers that set every staff 7 mm high. They
/// stand with the music as words of several lines: texts at the foot of a page are passed over by some
/// readers and run into the heading by others. Lines that no page could hold are left out, and the last line
/// says how many.
void write_below(const std::vector<std::vector<std::string>>& texts, score::Score& sheet);

/// Millimetres from the upper edge of the page to below the last system, texts included, were they all on
/// one.
[[nodiscard]] double height_of(const score::Score& sheet, const std::vector<std::vector<std::string>>& texts);

/// Text in lines of about `columns` characters; further lines of a paragraph are indented.
[[nodiscard]] std::vector<std::string> text_lines(const std::vector<std::string>& paragraphs,
                                                  std::size_t columns);

}  // namespace relead::arrange
