#include "theory/note.h"

#include <array>
#include <utility>

namespace relead::theory {

namespace {

constexpr std::array<int, 7> natural_fifths = {0, 2, 4, -1, 1, 3, 5};  // C D E F G A B

constexpr int floor_div(int a, int b) {
    const int q = a / b;
    return (a % b != 0 && (a < 0) != (b < 0)) ? q - 1 : q;
}
constexpr int floor_mod(int a, int b) {
    return a - b * floor_div(a, b);
}

// One accidental at the front of `text`: its alteration and length in bytes, or {0, 0}.
std::pair<int, std::size_t> leading_accidental(std::string_view text) {
    struct Sign {
        std::string_view bytes;
        int alteration;
    };
    constexpr std::array<Sign, 6> signs = {{{"b", -1}, {"#", 1}, {"♭", -1}, {"♯", 1}, {"𝄫", -2}, {"𝄪", 2}}};
    for (const auto& sign : signs)
        if (text.substr(0, sign.bytes.size()) == sign.bytes) return {sign.alteration, sign.bytes.size()};
    return {0, 0};
}

std::optional<int> parse_octave(std::string_view text) {
    const bool negative = !text.empty() && text.front() == '-';
    if (negative) text.remove_prefix(1);
    if (text.empty() || text.size() > 2) return std::nullopt;
    int value = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        value = 10 * value + (c - '0');
    }
    return negative ? -value : value;
}

}  // namespace

int letter_index(NoteName name) {
    return floor_mod(4 * name.fifths, 7);
}

char letter(NoteName name) {
    return "CDEFGAB"[letter_index(name)];
}

int alteration(NoteName name) {
    return floor_div(name.fifths + 1, 7);
}

int pitch_class(NoteName name) {
    return floor_mod(7 * name.fifths, 12);
}

int semitones_up(NoteName from, NoteName to) {
    return semitones_up(pitch_class(from), pitch_class(to));
}

NoteName note_from(char letter, int alteration) {
    constexpr std::string_view letters = "CDEFGAB";
    const auto index = letters.find(letter);
    return {natural_fifths[index == std::string_view::npos ? 0 : index] + 7 * alteration};
}

std::string to_string(NoteName name, bool unicode) {
    std::string out(1, letter(name));
    const int alter = alteration(name);
    const char* sign = alter < 0 ? (unicode ? "♭" : "b") : (unicode ? "♯" : "#");
    for (int i = alter < 0 ? -alter : alter; i > 0; --i) out += sign;
    return out;
}

std::optional<NoteName> parse_note_name(std::string_view text) {
    if (text.empty() || text.front() < 'A' || text.front() > 'G') return std::nullopt;
    int alter = 0;
    for (std::string_view rest = text.substr(1); !rest.empty();) {
        const auto [step, length] = leading_accidental(rest);
        if (length == 0 || (alter != 0 && (alter < 0) != (step < 0))) return std::nullopt;
        alter += step;
        rest.remove_prefix(length);
    }
    return note_from(text.front(), alter);
}

NoteName name_of(Pitch pitch) {
    return {pitch.above_c0.fifths};
}

int octave_of(Pitch pitch) {
    return floor_div(pitch.above_c0.steps(), 7);
}

Pitch pitch_from(NoteName name, int octave) {
    const int steps = letter_index(name) + 7 * octave;
    return {{name.fifths, (steps - 4 * name.fifths) / 7}};
}

int midi_number(Pitch pitch) {
    return 12 + pitch.above_c0.semitones();
}

std::string to_string(Pitch pitch, bool unicode) {
    return to_string(name_of(pitch), unicode) + std::to_string(octave_of(pitch));
}

std::optional<Pitch> parse_pitch(std::string_view text) {
    const auto digits = text.find_first_of("-0123456789");
    if (digits == std::string_view::npos) return std::nullopt;
    const auto name = parse_note_name(text.substr(0, digits));
    const auto octave = parse_octave(text.substr(digits));
    if (!name || !octave) return std::nullopt;
    return pitch_from(*name, *octave);
}

Interval interval_of_degree(int degree, int alteration) {
    const int steps = degree - 1;
    const int fifths = natural_fifths[static_cast<std::size_t>(floor_mod(steps, 7))] + 7 * alteration;
    return {fifths, (steps - 4 * fifths) / 7};
}

NoteName respell_near(NoteName name, NoteName center) {
    int fifths = name.fifths;
    while (fifths > center.fifths + 6) fifths -= 12;
    while (fifths < center.fifths - 6) fifths += 12;
    return {fifths};
}

}  // namespace relead::theory
