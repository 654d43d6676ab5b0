#include "text/render_line.h"

#include <algorithm>
#include <vector>

#include "base/fmt.h"
#include "text/grapheme.h"
#include "text/source.h"
#include "text/utf8.h"

namespace relead::text {
namespace {

constexpr int tab_stop = 4;
constexpr std::string_view ellipsis = "\u2026";
constexpr std::size_t longest_cluster = 48;  // bytes shown of one cluster
constexpr int longest_excerpt = 40;          // clusters of `marked`

/// One cluster as shown.
struct Cell {
    std::size_t begin = 0, end = 0;
    std::string text;
    int width = 0;
    bool right_to_left = false;
};

void append_point(std::string& out, std::string_view utf8, std::size_t offset, Utf8Char c) {
    switch (hazard_of(c.point)) {
        case Hazard::none:
            out += utf8.substr(offset, c.length);
            break;
        case Hazard::control:
            if (c.point < 0x20) {  // the pictures of U+2400
                out += "\xE2\x90";
                out += static_cast<char>(0x80U + c.point);
            } else {
                out += c.point == 0x7F ? "\u2421" : "\uFFFD";
            }
            break;
        case Hazard::bidi_control:
            out += fmt::format("<U+{:04X}>", static_cast<unsigned>(c.point));
            break;
    }
}

std::string printable_cluster(std::string_view cluster) {
    std::string out;
    for (std::size_t offset = 0; offset < cluster.size() && offset < longest_cluster;) {
        const auto c = decode_utf8(cluster, offset);
        if (c.length == 0) break;
        append_point(out, cluster, offset, c);
        offset += c.length;
    }
    return out;
}

Cell make_cell(const GraphemeWalk& walk, int column) {
    Cell cell{walk.begin(), walk.end(), {}, 0, false};
    const auto text = walk.text();
    if (text == "\t") {
        cell.width = tab_stop - column % tab_stop;
        cell.text.assign(static_cast<std::size_t>(cell.width), ' ');
        return cell;
    }
    if (text.size() == 1 && hazard_of(static_cast<unsigned char>(text[0])) == Hazard::none) {
        cell.text = text;
        cell.width = 1;
        return cell;
    }
    cell.text = printable_cluster(text);
    cell.width = display_width(cell.text);
    cell.right_to_left = is_right_to_left(decode_utf8(text, 0).point);
    if (cell.width == 0) {  // a mark without its letter: give it a place to sit on
        cell.text = "\u25CC" + cell.text;
        cell.width = 1;
    }
    return cell;
}

/// Cells around the span: enough to fill `width` columns on both sides, however long the line is.
std::vector<Cell> cells_around(std::string_view line, std::size_t begin, int width) {
    const auto reach = static_cast<std::size_t>(width) * 16;
    const auto from = begin > reach ? char_start(line, begin - reach) : 0;
    const auto piece = line.substr(from, 3 * reach);
    const auto whole = piece.substr(0, char_start(line, from + piece.size()) - from);
    std::vector<Cell> cells;
    int column = 0;
    GraphemeWalk walk(whole);
    bool first = from > 0;  // may be the tail of a cluster: leave it out
    while (walk.next()) {
        if (std::exchange(first, false) && walk.end() + from <= begin) continue;
        auto cell = make_cell(walk, column);
        column += cell.width;
        cell.begin += from;
        cell.end += from;
        cells.push_back(std::move(cell));
    }
    return cells;
}

struct Window {
    std::size_t first = 0, last = 0;  // cells, half open
};

/// Which cells to show: a third of the room in front of the span, the rest from it on.
Window choose_window(const std::vector<Cell>& cells, std::size_t mark, int width) {
    const int room = std::max(width - 2, 8);  // an ellipsis at each end
    int used = 0;
    Window window{mark, mark};
    const auto grow_left = [&](int limit) {
        while (window.first > 0 && used + cells[window.first - 1].width <= limit)
            used += cells[--window.first].width;
    };
    grow_left(room / 3);
    while (window.last < cells.size() && used + cells[window.last].width <= room)
        used += cells[window.last++].width;
    grow_left(room);
    return window;
}

bool fits(const std::vector<Cell>& cells, std::string_view line, int width) {
    if (cells.empty()) return line.empty();
    if (cells.front().begin != 0 || cells.back().end != line.size()) return false;
    int total = 0;
    for (const auto& cell : cells) total += cell.width;
    return total <= width;
}

}  // namespace

std::string printable(std::string_view utf8) {
    std::string out;
    for (std::size_t offset = 0; offset < utf8.size();) {
        const auto c = decode_utf8(utf8, offset);
        if (c.length == 0) {
            out += '?';
            ++offset;
            continue;
        }
        append_point(out, utf8, offset, c);
        offset += c.length;
    }
    return out;
}

ShownLine show_line(std::string_view line, std::size_t begin, std::size_t end, int width) {
    begin = std::min(begin, line.size());
    end = std::clamp(end, begin, line.size());
    const auto cells = cells_around(line, begin, width);
    const auto marked = [&](const Cell& c) { return c.begin < std::max(end, begin + 1) && c.end > begin; };
    const auto mark = std::find_if(cells.begin(), cells.end(), [&](const Cell& c) { return c.end > begin; });
    Window window{0, cells.size()};
    if (!fits(cells, line, width))
        window = choose_window(cells, static_cast<std::size_t>(mark - cells.begin()), width);

    ShownLine shown;
    int column = 0, carets = 0, excerpt = 0;
    if (window.first < cells.size() && cells[window.first].begin > 0) {
        shown.text = ellipsis;
        column = 1;
    }
    shown.before = -1;
    for (auto i = window.first; i < window.last; ++i) {
        const auto& cell = cells[i];
        if (marked(cell)) {
            if (shown.before < 0) shown.before = column;
            carets += cell.width;
            if (excerpt++ < longest_excerpt) shown.marked += cell.text;
        }
        shown.text += cell.text;
        shown.right_to_left = shown.right_to_left || cell.right_to_left;
        column += cell.width;
    }
    if (window.last > 0 && cells[window.last - 1].end < line.size()) shown.text += ellipsis;
    if (shown.before < 0) shown.before = column;
    shown.carets = std::max(carets, 1);
    return shown;
}

}  // namespace relead::text
