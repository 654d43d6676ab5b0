#include "tune/spot.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "text/render.h"

namespace relead::tune {

Place Spot::place() const {
    Place place;
    place.section = section;
    place.bar = bar;
    return place;
}

Place Spot::place(Time at) const {
    auto here = place();
    here.beat = meter.in_beats(at) + 1;
    return here;
}

std::string Spot::name() const {
    return text::to_string(place());
}

std::string mixed_number(Fraction number) {
    const auto whole = number.floor();
    const auto rest = number - Fraction(whole);
    if (rest == Fraction(0)) return std::to_string(whole);
    return whole == 0 ? rest.to_string() : std::to_string(whole) + ' ' + rest.to_string();
}

std::string count_of(Fraction number, std::string_view noun) {
    const std::string word(noun);
    if (number == Fraction(1)) return "1 " + word;
    if (number > Fraction(0) && number < Fraction(1)) return number.to_string() + " of a " + word;
    return mixed_number(number) + ' ' + word + 's';
}

std::string in_words(std::size_t number) {
    constexpr std::string_view words[] = {"no",    "one",   "two",  "three", "four",   "five",  "six",
                                          "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    return number < std::size(words) ? std::string(words[number]) : std::to_string(number);
}

std::string listed(const std::vector<std::string>& items, std::string_view conjunction) {
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i > 0) text += i + 1 == items.size() ? ' ' + std::string(conjunction) + ' ' : ", ";
        text += items[i];
    }
    return text;
}

namespace {

/// Letters left out, put in, changed, or swapped with the next one: the commonest slip of the fingers is one.
std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before, above, row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before = std::exchange(above, row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            row[j] = std::min({above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1), above[j] + 1, row[j - 1] + 1});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before[j - 2] + 1);
        }
    }
    return row[b.size()];
}

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::string folded(std::string_view text) {
    std::string result(text);
    std::transform(result.begin(), result.end(), result.begin(), lower);
    return result;
}

}  // namespace

std::string nearest_of(std::string_view word, const std::vector<std::string>& candidates) {
    constexpr std::size_t longest_compared = 60;
    if (word.size() > longest_compared) return {};
    std::string best;
    std::size_t least = std::max<std::size_t>(word.size() / 3, 1) + 1;
    for (const auto& candidate : candidates) {
        if (candidate.size() > longest_compared) continue;
        const auto distance = edit_distance(folded(word), folded(candidate));
        if (distance < least) {
            least = distance;
            best = candidate;
        }
    }
    return best;
}

}  // namespace relead::tune
