#include "syntax/keywords.h"

#include <algorithm>
#include <vector>

namespace relead::syntax {
namespace {

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// Edit distance with swapped neighbours (optimal string alignment).
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const bool same = lower(a[i - 1]) == lower(b[j - 1]);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0u : 1u)});
            const bool swapped =
                i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
            if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
        }
        before.swap(last);
        last.swap(row);
    }
    return last[b.size()];
}

}  // namespace

bool same_word(std::string_view a, std::string_view b) {
    return a.size() == b.size() &&
           std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) { return lower(x) == lower(y); });
}

std::string lower_case(std::string_view word) {
    std::string result(word);
    std::transform(result.begin(), result.end(), result.begin(), lower);
    return result;
}

std::string_view nearest_word(std::string_view word, std::span<const std::string_view> list) {
    constexpr std::size_t longest = 64;  // no keyword is near a longer word
    if (word.empty() || word.size() > longest) return {};
    const auto bound = std::max<std::size_t>(1, word.size() / 3);
    std::string_view best;
    std::size_t best_distance = bound + 1;
    for (const auto candidate : list) {
        const auto d = distance(word, candidate);
        if (d < best_distance && d < candidate.size()) {
            best = candidate;
            best_distance = d;
        }
    }
    return best;
}

}  // namespace relead::syntax
