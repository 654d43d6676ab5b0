// Chord symbols and numerals as text.
#include "theory/chord.h"
#include "theory/chord_degrees.h"
#include "theory/chord_table.h"

namespace relead::theory {

namespace {

// ♭ and ♯ for the accidentals of degrees: a b or # before a digit.
std::string with_unicode_accidentals(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool before_digit = i + 1 < text.size() && text[i + 1] >= '0' && text[i + 1] <= '9';
        if (before_digit && text[i] == 'b') {
            out += "♭";
        } else if (before_digit && text[i] == '#') {
            out += "♯";
        } else {
            out += text[i];
        }
    }
    return out;
}

// The quality after a numeral: the case of the numeral says minor, ø and ° stand for their classes.
std::string numeral_suffix(const Chord& chord) {
    std::string suffix = canonical_suffix(chord);
    const auto from = [&](std::string_view prefix, std::string_view instead) {
        return suffix.rfind(prefix, 0) == 0 ? std::string(instead) + suffix.substr(prefix.size()) : suffix;
    };
    switch (chord_class(chord)) {
        case ChordClass::minor:
            return from("m", "");
        case ChordClass::diminished:
            return from("dim", "°");
        case ChordClass::half_diminished: {  // m7b5 -> ø7, m9b5 -> ø9
            std::string out = from("m", "ø");
            if (const auto flat_five = out.find("b5"); flat_five != std::string::npos)
                out.erase(flat_five, 2);
            return out;
        }
        case ChordClass::augmented:
            return from("aug", "+");
        default:
            return suffix;
    }
}

bool is_lower_case(ChordClass chord_class) {
    return chord_class == ChordClass::minor || chord_class == ChordClass::half_diminished ||
           chord_class == ChordClass::diminished;
}

}  // namespace

std::string to_string(Degree degree) {
    const int count = degree.alteration < 0 ? -degree.alteration : degree.alteration;
    return std::string(static_cast<std::size_t>(count), degree.alteration < 0 ? 'b' : '#') +
           std::to_string(degree.number);
}

std::string to_string(const Chord& chord, SymbolStyle style) {
    const bool own = style == SymbolStyle::as_written && !chord.suffix.empty();
    if (chord.is_none()) return own ? chord.suffix : std::string(quality_name(chord.quality));
    const bool unicode =
        style == SymbolStyle::unicode || (style == SymbolStyle::as_written && chord.unicode_accidentals);
    std::string out = to_string(chord.root, unicode);
    if (own) {
        out += chord.suffix;
    } else {
        const std::string suffix = canonical_suffix(chord);
        out += style == SymbolStyle::unicode ? with_unicode_accidentals(suffix) : suffix;
    }
    if (chord.upper) out += '{' + to_string(chord.upper->root, unicode) + (chord.upper->minor ? "m}" : "}");
    if (chord.bass) out += '/' + to_string(*chord.bass, unicode);
    return out;
}

std::string numeral(const Chord& chord, NoteName tonic) {
    if (chord.is_none()) return to_string(chord, SymbolStyle::plain);
    std::string out = to_string(scale_degree(chord.root, tonic));
    if (is_lower_case(chord_class(chord)))
        for (char& c : out)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    out += numeral_suffix(chord);
    if (chord.bass) {
        const ScaleDegree bass = scale_degree(*chord.bass, chord.root);
        out += '/' + to_string(Degree{bass.degree, bass.alteration});
    }
    return out;
}

}  // namespace relead::theory
