#include "formats/text/columns.h"

#include <algorithm>
#include <cstddef>

#include "text/source.h"

namespace relead::formats::text {

std::string pad(std::string_view text, int width) {
    const int missing = width - relead::text::display_width(text);
    return std::string(text) + std::string(static_cast<std::size_t>(std::max(0, missing)), ' ');
}

std::vector<int> column_widths(const std::vector<std::vector<std::string>>& rows) {
    std::vector<int> widths;
    for (const auto& row : rows) {
        if (widths.size() < row.size()) widths.resize(row.size(), 0);
        for (std::size_t i = 0; i < row.size(); ++i) {
            widths[i] = std::max(widths[i], relead::text::display_width(row[i]));
        }
    }
    return widths;
}

std::string wrap(std::string_view text, int indent, int width) {
    const std::string margin(static_cast<std::size_t>(indent), ' ');
    std::string lines;
    int used = 0;
    std::size_t at = 0;
    while (at < text.size()) {
        const auto end = std::min(text.find(' ', at), text.size());
        const auto word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        const int size = relead::text::display_width(word);
        if (used > 0 && used + 1 + size > width) {
            lines += '\n';
            used = 0;
        }
        lines += used == 0 ? margin : " ";
        used += size + (used == 0 ? indent : 1);
        lines += word;
    }
    return lines.empty() ? lines : lines + '\n';
}

}  // namespace relead::formats::text
