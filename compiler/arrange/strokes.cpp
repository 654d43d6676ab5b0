#include "arrange/strokes.h"

#include <algorithm>

namespace relead::arrange {

std::vector<Stroke> read_strokes(std::string_view strokes, Time bar_length) {
    std::vector<Stroke> read;
    const auto step = bar_length / Time(static_cast<std::int64_t>(strokes.size()));
    Time at;
    for (const char c : strokes) {
        if (c == 'X' || c == 'x' || c == '>') {
            read.push_back({at, c == 'x' ? step * Time(1, 2) : step, c != 'x', c == '>'});
        } else if (c == '-' && !read.empty()) {
            read.back().length = at + step - read.back().at;
        }
        at += step;
    }
    return read;
}

std::vector<Stroke> strokes_of_hits(const std::vector<tune::HitEvent>& hits, bool tied_from_before) {
    constexpr Time longest_short(1, 16);
    std::vector<Stroke> strokes;
    bool tied = tied_from_before;
    for (const auto& hit : hits) {
        if (hit.kind == tune::HitEvent::Kind::rest) {
            tied = false;
            continue;
        }
        const bool brief = hit.kind == tune::HitEvent::Kind::brief;
        if (!tied) {
            strokes.push_back(
                {hit.at, brief ? std::min(hit.length, longest_short) : hit.length, true, false});
        } else if (!strokes.empty()) {
            strokes.back().length = hit.at + hit.length - strokes.back().at;
        }
        tied = hit.tied_to_next;
    }
    return strokes;
}

bool ties_over(const std::vector<tune::HitEvent>& hits) {
    return !hits.empty() && hits.back().kind != tune::HitEvent::Kind::rest && hits.back().tied_to_next;
}

}  // namespace relead::arrange
