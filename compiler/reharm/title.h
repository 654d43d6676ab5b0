// The title of a rule inside a sentence.
#pragma once

#include <string>

namespace relead::reharm {

/// "Tritone substitute" becomes small, "IV for ii" stays.
[[nodiscard]] std::string title_inside(std::string title);

}  // namespace relead::reharm
