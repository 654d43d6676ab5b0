#include "rules/numeral.h"

#include <algorithm>
#include <string>

namespace relead::rules {
namespace {

struct Head {
    theory::ScaleDegree degree;
    bool minor = false;
    std::string_view rest;
};

/// A sign and Roman digits in front of a word.
std::optional<Head> read_head(std::string_view word) {
    std::size_t signs = 0;
    while (signs < word.size() && (word[signs] == 'b' || word[signs] == '#')) ++signs;
    std::size_t end = signs;
    const auto digit = [&](char a, char b) {
        return end < word.size() && (word[end] == a || word[end] == b);
    };
    if (signs >= word.size()) return std::nullopt;
    const bool minor = word[signs] == 'i' || word[signs] == 'v';
    while (minor ? digit('i', 'v') : digit('I', 'V')) ++end;
    if (end == signs || signs > 1) return std::nullopt;
    std::string roman(word.substr(0, end));
    for (auto& c : roman) c = c == 'i' ? 'I' : c == 'v' ? 'V' : c;
    const auto degree = theory::parse_scale_degree(roman);
    if (!degree) return std::nullopt;
    return Head{*degree, minor, word.substr(end)};
}

std::optional<theory::Chord> chord_on_c(std::string_view suffix, bool minor) {
    std::string word = "C";
    const auto starts = [&](std::string_view text) { return suffix.substr(0, text.size()) == text; };
    if (minor && !starts("m") && !starts("\u00f8") && !starts("\u00b0") && !starts("dim")) word += 'm';
    word += suffix;
    auto reading = theory::parse_chord(word);
    if (!reading.chord) return std::nullopt;
    return std::move(*reading.chord);
}

}  // namespace

std::optional<Numeral> parse_numeral(std::string_view word) {
    const auto head = read_head(word);
    if (!head) return std::nullopt;
    Numeral numeral{head->degree, {}, std::nullopt};
    auto quality = chord_on_c(head->rest, head->minor);
    if (!quality) {
        const auto slash = head->rest.rfind('/');
        if (slash == std::string_view::npos) return std::nullopt;
        numeral.bass = parse_degree(head->rest.substr(slash + 1));
        quality = chord_on_c(head->rest.substr(0, slash), head->minor);
        if (!numeral.bass || numeral.bass->number > 7 || !quality) return std::nullopt;
    }
    quality->suffix.clear();
    numeral.quality = std::move(*quality);
    return numeral;
}

theory::Chord realise(const Numeral& numeral, theory::NoteName tonic) {
    theory::Chord chord = numeral.quality;
    chord.root = theory::note_at(tonic, numeral.degree);
    if (numeral.bass)
        chord.bass = chord.root + theory::interval_of_degree(numeral.bass->number, numeral.bass->alteration);
    return chord;
}

std::optional<std::string> with_one_sign(std::string_view word) {
    const auto signs = word.find_first_not_of("b#");
    if (signs == std::string_view::npos || signs < 2) return std::nullopt;
    const bool roman = word.find_first_of("IViv", signs) == signs;
    const auto end = roman ? std::min(word.find_first_not_of("IViv", signs), word.size()) : signs + 1;
    const auto name = word.substr(0, end);
    const auto degree = parse_degree(name);
    const auto scale = degree ? scale_degree_of(*degree) : theory::parse_scale_degree(name);
    if (!scale) return std::nullopt;
    constexpr theory::NoteName c{};
    const auto near = theory::scale_degree(theory::respell_near(theory::note_at(c, *scale), c), c);
    auto text =
        degree ? theory::to_string(theory::Degree{near.degree, near.alteration}) : theory::to_string(near);
    const bool small = word[signs] == 'i' || word[signs] == 'v';
    for (auto& letter : text) {
        if (small && letter != 'b' && letter != '#') letter = letter == 'I' ? 'i' : 'v';
    }
    return text + std::string(word.substr(end));
}

std::optional<theory::Degree> parse_degree(std::string_view word) {
    int alteration = 0;
    while (!word.empty() && (word.front() == 'b' || word.front() == '#')) {
        alteration += word.front() == 'b' ? -1 : 1;
        word.remove_prefix(1);
    }
    if (word.empty() || word.size() > 2 || alteration < -2 || alteration > 2) return std::nullopt;
    int number = 0;
    for (const char c : word) {
        if (c < '0' || c > '9') return std::nullopt;
        number = number * 10 + (c - '0');
    }
    if (number < 1 || number > 13) return std::nullopt;
    return theory::Degree{number, alteration};
}

theory::ScaleDegree scale_degree_of(theory::Degree degree) {
    return {(degree.number - 1) % 7 + 1, degree.alteration};
}

std::optional<ChordPattern> parse_pattern(std::string_view word) {
    ChordPattern pattern;
    pattern.text = std::string(word);
    if (word == "any") return pattern;
    const auto colon = word.find(':');
    if (colon == std::string_view::npos) {
        const auto numeral = parse_numeral(word);
        if (!numeral || numeral->bass) return std::nullopt;
        pattern.degree = numeral->degree;
        pattern.kinds = kinds_named_by(numeral->quality);
        return pattern;
    }
    const auto kinds = find_kinds(word.substr(colon + 1));
    if (!kinds) return std::nullopt;
    pattern.kinds = *kinds;
    if (word.substr(0, colon) == "any") return pattern;
    const auto degree = parse_degree(word.substr(0, colon));
    if (!degree || degree->number > 7 || degree->alteration < -1 || degree->alteration > 1)
        return std::nullopt;
    pattern.degree = scale_degree_of(*degree);
    return pattern;
}

}  // namespace relead::rules
