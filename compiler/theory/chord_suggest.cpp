#include "theory/chord_suggest.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <vector>

#include "theory/chord_table.h"

namespace relead::theory {

namespace {

using Kind = ChordProblem::Kind;

// Costs of typing errors: letters slip easily, a digit or an accidental carries the meaning.
constexpr int letter_case_cost = 1, bracket_cost = 1, letter_cost = 2, letter_swap_cost = 3, sign_cost = 3,
              digit_cost = 3, digit_swap_cost = 4, far = 5;

constexpr int unlimited = 1000;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
}
char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

int missing_cost(char c) {
    if (is_digit(c)) return digit_cost;
    if (c == '(' || c == ')' || c == ',' || c == ' ' || c == '.') return bracket_cost;
    return is_letter(c) ? letter_cost : sign_cost;
}

int swap_cost(char a, char b) {
    if (a == b) return 0;
    if (lower(a) == lower(b)) return letter_case_cost;
    if (is_digit(a) && is_digit(b)) return digit_swap_cost;
    if (is_letter(a) && is_letter(b)) return letter_swap_cost;
    return far;
}

// Which letters, digits and signs occur in a word, as bits.
struct Occurring {
    std::uint32_t letters = 0, digits = 0;
};

Occurring occurring(std::string_view word) {
    Occurring out;
    for (const char c : word) {
        if (is_digit(c))
            out.digits |= 1U << (c - '0');
        else if (lower(c) >= 'a' && lower(c) <= 'z')
            out.letters |= 1U << (lower(c) - 'a');
    }
    return out;
}

// Cheap lower bound of the distance: two words that differ in a letter or digit pay at least for a swap.
int least_distance(Occurring a, Occurring b) {
    const int letters = std::popcount(a.letters ^ b.letters), digits = std::popcount(a.digits ^ b.digits);
    const int letter_swaps = letters / 2 * letter_swap_cost + letters % 2 * letter_cost;
    return letter_swaps + digits / 2 * digit_swap_cost + digits % 2 * digit_cost;
}

// Weighted edit distance; any number above `limit` when it is larger than that.
int distance(std::string_view a, std::string_view b, int limit) {
    constexpr std::size_t longest = 128;  // longer words are refused before they come here
    if (b.size() >= longest) return limit + 1;
    std::array<int, longest> row{};
    for (std::size_t k = 1; k <= b.size(); ++k) row[k] = row[k - 1] + missing_cost(b[k - 1]);
    for (const char from : a) {
        const int missing = missing_cost(from);
        int diagonal = row[0];
        row[0] += missing;
        int smallest = row[0];
        for (std::size_t k = 1; k <= b.size(); ++k) {
            const int swapped = diagonal + swap_cost(from, b[k - 1]);
            diagonal = row[k];
            row[k] = std::min({swapped, row[k] + missing, row[k - 1] + missing_cost(b[k - 1])});
            smallest = std::min(smallest, row[k]);
        }
        if (smallest > limit) return limit + 1;
    }
    return row[b.size()];
}

int whole_cost(std::string_view body) {
    int cost = 0;
    for (const char c : body) cost += missing_cost(c);
    return cost;
}

// The degree word at `at` ("b8", "#12", "8"), as begin and length within `body`.
std::pair<std::size_t, std::size_t> degree_word(std::string_view body, std::size_t at) {
    std::size_t begin = at;
    if (begin < body.size() && (body[begin] == '(' || body[begin] == ',' || body[begin] == '/')) ++begin;
    std::size_t end = begin;
    while (end < body.size() &&
           (body[end] == 'b' || body[end] == '#' || body[end] == '+' || body[end] == '-'))
        ++end;
    while (end < body.size() && is_digit(body[end])) ++end;
    return {begin, end - begin};
}

// The wrong degree put right.
std::string with_nearest_degree(std::string_view body, std::size_t at) {
    constexpr std::array<std::string_view, 10> known = {"b9", "#9", "#11", "b13", "b5",
                                                        "#5", "9",  "11",  "13",  "maj7"};
    const auto [begin, length] = degree_word(body, at);
    if (length == 0) return {};
    const std::string_view wrong = body.substr(begin, length);
    std::string best;
    int best_cost = far + 1;
    for (const auto degree : known) {
        const int cost = distance(wrong, degree, best_cost);
        if (cost >= best_cost) continue;
        const std::string candidate = std::string(body.substr(0, begin)) + std::string(degree) +
                                      std::string(body.substr(begin + length));
        if (read_body(candidate).problem != Kind::empty) continue;
        best = candidate;
        best_cost = cost;
    }
    return best;
}

// "maj7" where "mj7" stands. Brackets are tried both ways.
std::string nearest_spelling(std::string_view body) {
    std::string best;
    int best_cost = far;
    std::uint16_t best_row = 0;
    const int all = whole_cost(body);
    const Occurring in_body = occurring(body);
    for (const auto& spelling : all_spellings()) {
        if (spelling.quality.row == 0 || spelling.text.empty()) continue;
        if (least_distance(in_body, occurring(spelling.text)) > best_cost + 1) continue;
        int cost = distance(body, spelling.text, best_cost + 1);
        if (cost * 2 > all + whole_cost(spelling.text) - cost) continue;  // less than half in common
        if (spelling.text == quality_name(spelling.quality)) --cost;      // our own spelling wins a near tie
        if (cost < best_cost || (cost == best_cost && !best.empty() && spelling.quality.row < best_row)) {
            best = spelling.text;
            best_cost = cost;
            best_row = spelling.quality.row;
        }
    }
    return best;
}

// A sign that no symbol has, with something after it: "^7" is a seventh of some kind, and to leave the sign
// out would make another chord of it.
bool has_foreign_sign(std::string_view body) {
    constexpr std::string_view known = "#+-(),/. ";
    for (std::size_t i = 0; i + 1 < body.size(); ++i) {
        const char c = body[i];
        if (!is_digit(c) && !is_letter(c) && known.find(c) == std::string_view::npos) return true;
    }
    return false;
}

}  // namespace

std::string nearest_body(std::string_view body, const BodyReading& failure) {
    if (has_foreign_sign(body)) return {};
    if (failure.problem == Kind::unclosed_parenthesis) {
        for (const std::string& candidate :
             {std::string(body) + ')', std::string(body.substr(0, body.find(')')))})
            if (read_body(candidate).problem == Kind::empty) return candidate;
    }
    std::string spelling = nearest_spelling(body);
    if (failure.problem != Kind::bad_degree) return spelling;
    std::string repaired = with_nearest_degree(body, failure.failed_at);
    if (repaired.empty() ||
        (!spelling.empty() && distance(body, spelling, unlimited) < distance(body, repaired, unlimited)))
        return spelling;
    return repaired;
}

}  // namespace relead::theory
