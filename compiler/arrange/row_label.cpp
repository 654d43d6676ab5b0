#include "arrange/row_label.h"

#include <algorithm>
#include <set>
#include <sstream>
#include <string_view>

#include "text/source.h"

namespace relead::arrange {

namespace {

constexpr std::string_view solo = " (solo)";
// Characters that stand left of a system without running off the page, the soloist's mark included.
constexpr int longest_name = 16;
constexpr int longest_abbreviation = 8;
constexpr int longest_solo_abbreviation = 14;

std::vector<std::string> words_of(const std::string& name) {
    std::istringstream stream(name);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
}

bool is_number(const std::string& word) {
    return std::all_of(word.begin(), word.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// Whole characters, and a full stop for what is left out.
std::string cut(std::string word, int longest) {
    if (text::grapheme_count(word) <= longest) return word;
    while (!word.empty() && text::grapheme_count(word) >= longest) {
        // A shorter prefix that ends inside a character counts as much as one that ends before it.
        while (!word.empty() && (static_cast<unsigned char>(word.back()) & 0xC0U) == 0x80U) word.pop_back();
        if (!word.empty()) word.pop_back();
    }
    return word + ".";
}

std::string label(const SheetRow& row, int longest) {
    if (!row.soloist) return short_name(row.name, longest);
    return short_name(row.name, longest - static_cast<int>(solo.size())) + std::string(solo);
}

/// Rows of different names have different labels.
bool distinct(const std::vector<SheetRow>& rows, const std::vector<std::string>& labels) {
    std::set<std::pair<std::string, bool>> names;
    for (const auto& row : rows) names.emplace(row.name, row.soloist);
    return std::set<std::string>(labels.begin(), labels.end()).size() == names.size();
}

/// As short as wished, or as long as it takes to tell all rows apart.
std::vector<std::string> labels(const std::vector<SheetRow>& rows, int band, int soloist) {
    int longest = 0;
    for (const auto& row : rows) longest = std::max(longest, text::grapheme_count(row.name));
    std::vector<std::string> all;
    for (int more = 0; more <= longest; ++more) {
        all.clear();
        for (const auto& row : rows) all.push_back(label(row, more + (row.soloist ? soloist : band)));
        if (distinct(rows, all)) break;
    }
    return all;
}

}  // namespace

std::vector<RowLabel> row_labels(const std::vector<SheetRow>& rows) {
    const auto names = labels(rows, longest_name, longest_name);
    const auto abbreviations = labels(rows, longest_abbreviation, longest_solo_abbreviation);
    std::vector<RowLabel> all;
    for (std::size_t i = 0; i < rows.size(); ++i) all.push_back({names[i], abbreviations[i]});
    return all;
}

std::string short_name(const std::string& name, int longest) {
    if (text::grapheme_count(name) <= longest) return name;
    auto words = words_of(name);
    if (words.empty()) return "";
    std::string number;
    if (words.size() > 1 && is_number(words.back())) {
        number = " " + words.back();
        words.pop_back();
    }
    const int room = std::max(2, longest - static_cast<int>(number.size()));
    auto text = cut(words.front(), room);
    for (std::size_t i = 1; i < words.size(); ++i) {
        if (text::grapheme_count(text + " " + words[i]) > room) break;
        text += " " + words[i];
    }
    return text + number;
}

}  // namespace relead::arrange
