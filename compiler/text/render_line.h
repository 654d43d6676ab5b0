// One source line made ready for a terminal: tabs expanded, controls made visible, cut around a
// span, with the columns of the span. Internal to text.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace relead::text {

struct ShownLine {
    std::string text;            ///< printable, at most `width` columns wide
    int before = 0;              ///< columns in front of the carets
    int carets = 1;              ///< columns under which carets stand, at least 1
    bool right_to_left = false;  ///< the shown part holds text that runs right to left
    std::string marked;          ///< the marked text as shown, shortened; for right-to-left lines
};

/// `begin` and `end` are byte offsets in the line. Looks only at the neighbourhood of the span.
[[nodiscard]] ShownLine show_line(std::string_view line, std::size_t begin, std::size_t end, int width);

/// Text that cannot disturb a terminal: controls become visible, direction controls become U+XXXX.
[[nodiscard]] std::string printable(std::string_view utf8);

}  // namespace relead::text
