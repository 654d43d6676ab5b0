// Tables of keywords, compared without regard to ASCII case, and the word that was probably meant.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace relead::syntax {

/// Same letters without regard to the case of A–Z.
[[nodiscard]] bool same_word(std::string_view a, std::string_view b);
[[nodiscard]] std::string lower_case(std::string_view word);

/// The word of the list that is nearest in spelling (a changed, missing, extra or swapped letter counts
/// one; no more than a third of the letters may differ, one at least). Empty when none is near.
[[nodiscard]] std::string_view nearest_word(std::string_view word, std::span<const std::string_view> list);

/// One row of a table of keywords: `Keyword<Kind>{"at most", Kind::at_most}`.
template <class T>
struct Keyword {
    std::string_view word;
    T value;
};

/// The row with this word; null when there is none.
template <class T, std::size_t N>
[[nodiscard]] const Keyword<T>* find_keyword(const Keyword<T> (&table)[N], std::string_view word) {
    for (const auto& row : table)
        if (same_word(row.word, word)) return &row;
    return nullptr;
}

}  // namespace relead::syntax
