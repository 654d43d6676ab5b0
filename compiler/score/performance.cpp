#include "score/performance.h"

#include <algorithm>
#include <bit>

namespace relead::score {

double swung(Time at, double swing, Time grid) {
    const auto quarters = (at - grid) * 4;
    const Time whole = quarters.floor();
    const auto part = quarters - whole;
    const bool halves = std::has_single_bit(static_cast<std::uint64_t>(part.denominator()));
    if (part == Time(0) || !halves) return at.to_double();
    const double inside = part.to_double();
    const double moved = inside <= 0.5 ? inside * 2 * swing : swing + (inside - 0.5) * 2 * (1 - swing);
    return grid.to_double() + (whole.to_double() + moved) / 4;
}

double swung(const Performance& performance, Time at) {
    SwingMark in_force{performance.grid, performance.swing};
    for (const auto& mark : performance.swings)
        if (mark.at <= at) in_force = mark;
    return swung(at, in_force.swing, std::max(in_force.at, performance.grid));
}

double seconds_at(const Performance& performance, Time at) {
    double seconds = 0;
    for (std::size_t i = 0; i < performance.tempi.size(); ++i) {
        const auto& mark = performance.tempi[i];
        if (mark.at >= at) break;
        const auto end = i + 1 < performance.tempi.size() ? std::min(at, performance.tempi[i + 1].at) : at;
        seconds += (end - mark.at).to_double() * 4 * 60 / mark.quarters_per_minute;
    }
    return seconds;
}

}  // namespace relead::score
