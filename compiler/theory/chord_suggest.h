// "Did you mean": the known spelling that lies nearest to a chord body that could not be read.
#pragma once

#include <string>
#include <string_view>

#include "theory/chord_degrees.h"

namespace relead::theory {

/// A body that can be read and is near in a musician's sense (a wrong digit weighs more than a
/// dropped letter); empty when nothing is near.
[[nodiscard]] std::string nearest_body(std::string_view body, const BodyReading& failure);

}  // namespace relead::theory
