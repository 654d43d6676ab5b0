#include "theory/key.h"

#include <array>

namespace relead::theory {

namespace {

struct ModeFacts {
    Mode mode;
    std::string_view name;
    int signature_shift;  // against the major key on the same tonic
    bool minor_like;
};

constexpr std::array<ModeFacts, 10> modes = {{
    {Mode::major, "major", 0, false},
    {Mode::minor, "minor", -3, true},
    {Mode::blues, "blues", 0, false},
    {Mode::ionian, "ionian", 0, false},
    {Mode::dorian, "dorian", -2, true},
    {Mode::phrygian, "phrygian", -4, true},
    {Mode::lydian, "lydian", 1, false},
    {Mode::mixolydian, "mixolydian", -1, false},
    {Mode::aeolian, "aeolian", -3, true},
    {Mode::locrian, "locrian", -5, true},
}};

constexpr std::array<std::string_view, 7> numerals = {"I", "II", "III", "IV", "V", "VI", "VII"};

const ModeFacts& facts(Mode mode) {
    for (const auto& row : modes)
        if (row.mode == mode) return row;
    return modes.front();
}

}  // namespace

int signature(const Key& key) {
    return key.tonic.fifths + facts(key.mode).signature_shift;
}

bool is_minor_like(const Key& key) {
    return facts(key.mode).minor_like;
}

bool is_modal(const Key& key) {
    return key.mode != Mode::major && key.mode != Mode::minor && key.mode != Mode::blues;
}

std::string to_string(const Key& key, bool unicode) {
    return to_string(key.tonic, unicode) + ' ' + std::string(mode_name(key.mode));
}

std::string_view mode_name(Mode mode) {
    return facts(mode).name;
}

std::optional<Mode> parse_mode(std::string_view word) {
    for (const auto& row : modes)
        if (row.name == word) return row.mode;
    return std::nullopt;
}

bool is_same_mode(Mode one, Mode other) {
    const auto plain = [](Mode mode) {
        if (mode == Mode::ionian) return Mode::major;
        return mode == Mode::aeolian ? Mode::minor : mode;
    };
    return plain(one) == plain(other);
}

Key transpose(const Key& key, Interval by) {
    return {key.tonic + by, key.mode};
}

Key practical_key(const Key& key, bool keep_seven) {
    const int limit = keep_seven ? 7 : 6;
    Key out = key;
    while (signature(out) > limit) out.tonic.fifths -= 12;
    while (signature(out) < -limit) out.tonic.fifths += 12;
    return out;
}

ScaleDegree scale_degree(NoteName name, NoteName tonic) {
    const NoteName as_if_in_c{name - tonic};
    return {letter_index(as_if_in_c) + 1, alteration(as_if_in_c)};
}

std::string to_string(const ScaleDegree& degree) {
    const int count = degree.alteration < 0 ? -degree.alteration : degree.alteration;
    std::string out(static_cast<std::size_t>(count), degree.alteration < 0 ? 'b' : '#');
    return out += numerals[static_cast<std::size_t>((degree.degree - 1) % 7)];
}

std::optional<ScaleDegree> parse_scale_degree(std::string_view roman) {
    int alter = 0;
    while (!roman.empty() && (roman.front() == 'b' || roman.front() == '#')) {
        if (alter != 0 && (alter < 0) != (roman.front() == 'b')) return std::nullopt;
        alter += roman.front() == 'b' ? -1 : 1;
        roman.remove_prefix(1);
    }
    std::string upper;
    for (const char c : roman) upper += (c >= 'a' && c <= 'z') ? static_cast<char>(c - 'a' + 'A') : c;
    if (upper != roman) {  // "ii" is a numeral, "iI" is none
        for (const char c : roman)
            if (c >= 'A' && c <= 'Z') return std::nullopt;
    }
    for (std::size_t i = 0; i < numerals.size(); ++i)
        if (numerals[i] == upper) return ScaleDegree{static_cast<int>(i) + 1, alter};
    return std::nullopt;
}

NoteName note_at(NoteName tonic, const ScaleDegree& degree) {
    return tonic + interval_of_degree(degree.degree, degree.alteration);
}

bool is_diatonic(NoteName name, const Key& key) {
    const int from_lowest = name.fifths - (signature(key) - 1);  // a scale is seven fifths in a row
    if (from_lowest >= 0 && from_lowest < 7) return true;
    const int from_tonic = name - key.tonic;
    if (key.mode == Mode::minor) return from_tonic == 3 || from_tonic == 5;  // raised 6 and 7
    // The blues: minor seventh, blue third and blue fifth belong to it.
    if (key.mode == Mode::blues) return from_tonic == -2 || from_tonic == -3 || from_tonic == -6;
    return false;
}

}  // namespace relead::theory
