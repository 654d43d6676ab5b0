#include "rules/find_words.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "rules/condition_words.h"
#include "tune/spot.h"

namespace relead::rules {
namespace {

/// A degree of a tonic that may be a guess: never with a double sign.
std::string note_name(theory::NoteName tonic, const theory::ScaleDegree& degree) {
    const auto note = theory::note_at(tonic, degree);
    const auto text = theory::to_string(note);
    return text.size() > 2 ? theory::to_string(theory::respell_near(note, theory::NoteName{})) : text;
}

/// The degree on which all alternatives stand, where they agree.
std::optional<theory::ScaleDegree> only_degree(const Element& element) {
    const auto& degree = element.alternatives.front().degree;
    const bool one = std::all_of(element.alternatives.begin(), element.alternatives.end(),
                                 [&](const ChordPattern& pattern) { return pattern.degree == degree; });
    return one ? degree : std::nullopt;
}

std::string kinds_of(const Element& element) {
    KindSet kinds = 0;
    for (const auto& pattern : element.alternatives) kinds |= pattern.kinds;
    return describe(kinds);
}

/// From one degree to another, the nearer way: "a fourth higher".
std::string_view distance(const theory::ScaleDegree& from, const theory::ScaleDegree& to) {
    constexpr std::array<std::string_view, 12> words{
        "on the same root",     "a half step higher",  "a whole step higher", "a minor third higher",
        "a major third higher", "a fourth higher",     "a tritone away",      "a fifth higher",
        "a major third lower",  "a minor third lower", "a whole step lower",  "a half step lower"};
    const theory::NoteName tonic{};
    const int up = theory::semitones_up(theory::note_at(tonic, from), theory::note_at(tonic, to));
    return words[static_cast<std::size_t>(up)];
}

}  // namespace

std::string wanted(const Element& element, theory::NoteName tonic) {
    std::vector<std::string> kinds;
    const auto one_degree = only_degree(element);
    for (const auto& pattern : element.alternatives) {
        auto words = describe(pattern.kinds);
        if (!one_degree && pattern.degree) words += " on " + note_name(tonic, *pattern.degree);
        if (std::find(kinds.begin(), kinds.end(), words) == kinds.end()) kinds.push_back(words);
    }
    auto text = tune::listed(kinds, "or");
    if (one_degree) text += " on " + note_name(tonic, *one_degree);
    return text;
}

std::string find_words(const Rule& rule, const std::optional<theory::NoteName>& tonic) {
    if (rule.find.region) return "whatever stands in " + place_words(*rule.find.region);
    std::string text;
    std::optional<theory::ScaleDegree> before;
    for (const auto& element : rule.find.run) {
        if (element.optional) continue;
        if (!text.empty()) text += ", then ";
        const auto degree = only_degree(element);
        text += tonic ? wanted(element, *tonic) : kinds_of(element);
        if (!tonic && before && degree) text += " " + std::string(distance(*before, *degree));
        before = degree;
    }
    return text;
}

}  // namespace relead::rules
