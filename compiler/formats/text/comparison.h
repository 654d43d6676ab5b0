// The written changes and versions of them as text for a terminal: bars stand under each other, what changed
// is marked, reasons and numbers follow.
#pragma once

#include <string>

#include "formats/text/tables.h"
#include "report/comparison.h"

namespace relead::formats::text {

/// Rows over the same bars. A changed chord has a star before it; on a terminal with colours it is bold and
/// coloured too. Lines break between bars only, four bars a line at most and one at least, whatever the
/// width. A row is left out of a line in which it changes nothing; sections played alike are shown once.
[[nodiscard]] std::string print_rows(const report::Comparison& comparison, const TextStyle& style = {});

/// Every row but the first: its idea and every change with its reason.
[[nodiscard]] std::string print_reasons(const report::Comparison& comparison, const TextStyle& style = {});

/// Numbers of every row: changes, guide tones before and now, melody, how far outside, what the search cut.
[[nodiscard]] std::string print_summary(const report::Comparison& comparison, const TextStyle& style = {});

/// Title line, rows, reasons, summary and notes.
[[nodiscard]] std::string print_comparison(const report::Comparison& comparison, const TextStyle& style = {});

/// The chords of a bar in one cell: "Gm7 *C7"; where they do not split the bar evenly with a stroke for each
/// further beat, "Gm7 / / *C7", or in beats, "Gm7*3/2 *C7*5/2".
[[nodiscard]] std::string cell_text(const report::ComparedBar& bar, std::size_t row);

}  // namespace relead::formats::text
