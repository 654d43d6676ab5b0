#include "theory/signs.h"

#include <algorithm>
#include <array>
#include <cstddef>

#include "theory/chord.h"

namespace relead::theory {

namespace {

bool is_sign(char c) {
    return c == 'b' || c == '#';
}
bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
std::string_view sign_of(char c) {
    return c == 'b' ? "\u266d" : "\u266f";
}

/// Signs after the root and the bass, and before degrees.
std::string chord_signs(std::string_view word) {
    std::string out;
    bool after_letter = false;
    for (std::size_t i = 0; i < word.size(); ++i) {
        const bool degree = i + 1 < word.size() && is_digit(word[i + 1]);
        if (is_sign(word[i]) && (after_letter || degree)) {
            out += sign_of(word[i]);
            continue;
        }
        out += word[i];
        after_letter = word[i] >= 'A' && word[i] <= 'G' && (i == 0 || word[i - 1] == '/');
    }
    return out;
}

/// "b9", "##5", "bVII7", "#iv": signs stand before a number.
bool is_degree(std::string_view word) {
    const auto number = word.find_first_not_of("b#");
    if (number == 0 || number == std::string_view::npos) return false;
    if (is_digit(word[number])) return true;
    return word[number] == 'V' || word[number] == 'I' || word[number] == 'v' || word[number] == 'i';
}

/// Beats of a chord are no part of its name: "Ebm7*1".
bool is_chord(std::string_view word) {
    const auto name = word.substr(0, word.find('*'));
    return !name.empty() && name.front() >= 'A' && name.front() <= 'G' && parse_chord(name).chord;
}

bool is_note(std::string_view word) {
    return word.size() > 1 && parse_note_name(word).has_value();
}

enum class Chords { too, not_they };

std::string degree_signs(std::string_view word) {
    std::string out;
    std::size_t at = 0;
    for (; at < word.size() && is_sign(word[at]); ++at) out += sign_of(word[at]);
    return out + std::string(word.substr(at));
}

/// The longest start of a word, without the punctuation that ends it, that is a chord or a degree.
std::string word_with_signs(std::string_view word, bool moves, Chords chords) {
    constexpr std::array<std::string_view, 4> openings{"(", "[", "\"", "\u201c"};
    for (const auto opening : openings) {
        if (word.substr(0, opening.size()) == opening)
            return std::string(opening) + word_with_signs(word.substr(opening.size()), moves, chords);
    }
    for (std::size_t end = word.size(); end > 0; --end) {
        const auto name = word.substr(0, end);
        const auto rest = std::string(word.substr(end));
        if (name == "Ebb" && !moves) break;
        if (is_degree(name)) return degree_signs(name) + rest;
        if (chords == Chords::too ? is_chord(name) : is_note(name)) return chord_signs(name) + rest;
        constexpr std::string_view closings = ".,:;!?)]\"";
        const bool quote = name.ends_with("\u201d");
        if (!quote && closings.find(word[end - 1]) == std::string_view::npos) break;
        if (quote) end -= std::string_view("\u201d").size() - 1;
    }
    return std::string(word);
}

void replace_all(std::string& text, std::string_view old, std::string_view now) {
    for (auto at = text.find(old); at != std::string::npos; at = text.find(old, at + now.size()))
        text.replace(at, old.size(), now);
}

std::string written(std::string_view prose, Chords chords) {
    constexpr std::string_view breaks = " \n>=";
    std::string out;
    std::size_t at = 0;
    char before = ' ';
    while (at < prose.size()) {
        const auto end = std::min(prose.find_first_of(breaks, at), prose.size());
        const auto word = prose.substr(at, end - at);
        const char after = end < prose.size() ? prose[end] : ' ';
        const bool moves = before == '>' || before == '=' || after == '>' || after == '=' ||
                           prose.substr(end).substr(0, 5) == " held";
        out += word_with_signs(word, moves, chords);
        if (end < prose.size()) out += prose[end];
        before = after;
        at = end + 1;
    }
    return out;
}

}  // namespace

std::string with_signs(std::string_view prose) {
    return written(prose, Chords::too);
}

bool has_signs(std::string_view prose) {
    constexpr std::string_view flat = "\u266d", sharp = "\u266f";
    return prose.find(flat) != std::string_view::npos || prose.find(sharp) != std::string_view::npos;
}

std::string in_one_hand(std::string_view sentence) {
    return in_hand_of(sentence, sentence);
}

std::string in_hand_of(std::string_view chords, std::string_view sentence) {
    return has_signs(chords) || has_signs(sentence) ? written(sentence, Chords::not_they)
                                                    : std::string(sentence);
}

std::string motion_with_signs(std::string_view motion) {
    auto text = with_signs(motion);
    replace_all(text, ">", " \u2192 ");
    replace_all(text, "=", " = ");
    return text;
}

}  // namespace relead::theory
