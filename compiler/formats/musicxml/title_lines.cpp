#include "formats/musicxml/title_lines.h"

#include <algorithm>

#include "text/grapheme.h"
#include "text/source.h"

namespace relead::formats {

namespace {

// A serif letter is about half as wide as high: so many columns fill a page of 1060 tenths in 11 points.
constexpr int columns_of_one = 85;
constexpr int columns_of_two = 75;  // clear of the composer's name
constexpr int largest = 22, size_of_two = 11, points_across = 1000;

/// How much of `text` fits into `columns`, in bytes: to the end of a word where one ends in the second half,
/// else to the end of a letter.
std::size_t head_of(std::string_view text, int columns) {
    std::size_t fits = 0, word = 0;
    int width = 0;
    text::GraphemeWalk walk(text);
    while (walk.next()) {
        if (walk.text() == " " && width > columns / 2) word = walk.begin();
        width += text::cluster_width(walk.text());
        if (width > columns) return word > 0 ? word : std::max<std::size_t>(fits, 1);
        fits = walk.end();
    }
    return text.size();
}

std::string_view trimmed(std::string_view text) {
    const auto first = std::min(text.find_first_not_of(' '), text.size());
    text.remove_prefix(first);
    return text.substr(0, text.find_last_not_of(' ') + 1);
}

}  // namespace

std::string clipped(std::string_view text, int columns) {
    if (text::display_width(text) <= columns) return std::string(text);
    return std::string(trimmed(text.substr(0, head_of(text, columns - 1)))) + "\u2026";
}

std::vector<std::string> item_lines(std::string_view text, int first, int columns) {
    constexpr std::string_view dot = " \u00b7 ";
    std::vector<std::string> lines;
    int width = 0;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find(dot, at), text.size());
        const auto item = text.substr(at, end - at);
        const int wide = text::display_width(item);
        const int between = text::display_width(dot);
        if (lines.empty() || width + between + wide > (lines.size() == 1 ? first : columns)) {
            if (!lines.empty()) lines.back() += dot.substr(0, dot.size() - 1);
            lines.emplace_back(item);
            width = wide;
        } else {
            lines.back().append(dot).append(item);
            width += between + wide;
        }
        at = std::min(end + dot.size(), text.size());
    }
    return lines;
}

TitleLines title_lines(std::string_view title) {
    const int width = std::max(1, text::display_width(title));
    if (width <= columns_of_one) return {{std::string(title)}, std::min(largest, points_across / width)};
    // Two lines of about one length, as far as they hold it all.
    const int half = std::min(columns_of_two, width / 2 + width / 10);
    const auto first = head_of(title, half);
    return {
        {std::string(trimmed(title.substr(0, first))), clipped(trimmed(title.substr(first)), columns_of_two)},
        size_of_two};
}

}  // namespace relead::formats
