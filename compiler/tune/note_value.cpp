#include "tune/note_value.h"

#include <array>
#include <utility>

namespace relead::tune {
namespace {

constexpr std::array<std::pair<int, char>, 6> letters{
    {{1, 'w'}, {2, 'h'}, {4, 'q'}, {8, 'e'}, {16, 's'}, {32, 't'}}};
constexpr int most_dots = 2;

}  // namespace

Time time_of(NoteValue value) {
    const std::int64_t dotted = std::int64_t{1} << value.dots;
    return Time(1, value.denominator) * Fraction(2 * dotted - 1, dotted);
}

std::optional<NoteValue> value_of(Time time) {
    for (int dots = 0; dots <= most_dots; ++dots)
        for (const auto& [denominator, letter] : letters)
            if (time_of({denominator, dots}) == time) return NoteValue{denominator, dots};
    return std::nullopt;
}

std::vector<NoteValue> values_of(Time time) {
    std::vector<NoteValue> values;
    while (time > Time(0)) {
        if (const auto whole = value_of(time)) {
            values.push_back(*whole);
            return values;
        }
        NoteValue longest{0, 0};
        for (const auto& [denominator, letter] : letters)
            if (longest.denominator == 0 && Time(1, denominator) <= time) longest.denominator = denominator;
        if (longest.denominator == 0) return {};
        values.push_back(longest);
        time -= time_of(longest);
    }
    return values;
}

std::string duration_word(NoteValue value) {
    std::string word;
    for (const auto& [denominator, letter] : letters)
        if (denominator == value.denominator) word = letter;
    return word + std::string(static_cast<std::size_t>(value.dots), '.');
}

Fraction tuplet_factor(const NoteEvent& note) {
    Fraction factor = 1;
    if (note.tuplet) factor = factor * Fraction(note.tuplet->normal, note.tuplet->actual);
    if (note.outer_tuplet) factor = factor * Fraction(note.outer_tuplet->normal, note.outer_tuplet->actual);
    return factor;
}

}  // namespace relead::tune
