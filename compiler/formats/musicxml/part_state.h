// What the writer remembers while it goes through one part.
#pragma once

#include <string>
#include <vector>

#include <relead/fraction.h>

#include "formats/musicxml/sink.h"
#include "score/score.h"

namespace relead::formats {

/// Colour of what a version changed: a dark red that still prints well in grey.
inline constexpr std::string_view changed_colour = "#A01818";

struct PartState {
    Sink& sink;
    const score::Score& score;
    const score::Part& part;
    int divisions = 12;  ///< of a quarter note, one value for the whole file
    score::SlashStyle slashes = score::SlashStyle::none;
    std::vector<int> open_slurs = {};  ///< their numbers
    std::string open_ending = {};      ///< `number` of the bracket that is open; "" = none

    [[nodiscard]] int ticks(Time time) const {
        const auto exact = time * Fraction(4) * Fraction(divisions);
        return static_cast<int>(exact.numerator() / exact.denominator());
    }
    [[nodiscard]] bool several_parts() const { return score.parts.size() > 1; }
};

}  // namespace relead::formats
