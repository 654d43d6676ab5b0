// Scales and the one that usually goes with a chord. The facts are grammar/scales.txt.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "theory/chord.h"

namespace relead::theory {

struct Scale {
    std::string_view name;            ///< "lydian dominant"
    std::span<const Degree> degrees;  ///< against the major scale of its root, ascending
};

[[nodiscard]] std::vector<Scale> scales();
/// By name; nothing when unknown.
[[nodiscard]] std::optional<Scale> find_scale(std::string_view name);
/// The usual scale for the chord's quality; nothing for N.C. It holds every tone of the quality.
[[nodiscard]] std::optional<Scale> scale_for(const Chord& chord);
/// The spelled notes of a scale on a root, strict spelling.
[[nodiscard]] std::vector<NoteName> notes_of(const Scale& scale, NoteName root);

}  // namespace relead::theory
