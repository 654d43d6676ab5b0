#include "score/element.h"

namespace relead::score {

Time NoteValue::length() const {
    // One dot adds a half, two dots three quarters: 2 - 1/2^dots.
    const std::int64_t parts = std::int64_t{1} << dots;
    return Time(1, denominator) * Fraction(2 * parts - 1, parts);
}

}  // namespace relead::score
