// What stands at the left edge of a row: the version's name, short enough for the page, for whom it is, and
// never the same for two versions.
#pragma once

#include <string>
#include <vector>

#include "arrange/row_part.h"

namespace relead::arrange {

struct RowLabel {
    std::string name;          ///< before the first system: "over the rail", "over the (solo)"
    std::string abbreviation;  ///< before the others: "over the", "over (solo)"
};

/// Labels of the rows of one sheet, in their order.
[[nodiscard]] std::vector<RowLabel> row_labels(const std::vector<SheetRow>& rows);

/// At most `longest` characters of a name: whole words from its front and the number of the version at its
/// end. "over the rail" in eight is "over the", "over the rail 2" is "over 2"; a first word that is too long
/// is cut, "superimposed" to "superim.".
[[nodiscard]] std::string short_name(const std::string& name, int longest);

}  // namespace relead::arrange
