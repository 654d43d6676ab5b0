#include "reharm/versions_ahead.h"

#include <algorithm>
#include <numeric>
#include <optional>

#include "reharm/aims.h"

namespace relead::reharm {
namespace {

using Candidate = FreeChoice::Candidate;

/// Versions chosen together, and candidates tried for each but the last of them.
constexpr std::size_t together = 3, candidates_tried = 2;
/// Half beats of a tune for which that is done, some 130 bars: it takes seven choices instead of three, and
/// in a longer tune there is room for all.
constexpr int half_beats_together = 1'024;

/// Some versions in order.
struct Line {
    std::vector<Candidate> versions;
    double price = 0;
    [[nodiscard]] bool better_than(const Line& other) const {
        if (versions.size() != other.versions.size()) return versions.size() > other.versions.size();
        return price < other.price;
    }
};

/// The same versions in the order that costs least; the first one costs `most` at most, where any does.
Line in_best_order(FreeChoice& choice, const Line& line, double most) {
    std::vector<std::size_t> order(line.versions.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::optional<Line> best;
    do {
        Line tried;
        if (best && choice.price_of(line.versions[order.front()]) > most) continue;
        for (const auto i : order) {
            tried.price += choice.price_of(line.versions[i]);
            tried.versions.push_back(line.versions[i]);
            choice.take(line.versions[i]);
        }
        for (std::size_t i = 0; i < order.size(); ++i) choice.take_back();
        if (!best || tried.better_than(*best)) best = std::move(tried);
    } while (std::next_permutation(order.begin(), order.end()));
    return *best;
}

/// The best line of those that begin with one of the best candidates each time.
Line best_line(FreeChoice& choice, std::size_t length) {
    Line best;
    if (length == 0) return best;
    const auto found = choice.candidates();
    const std::size_t tried = length == 1 ? 1 : candidates_tried;
    // Whoever asks for one version gets a good one, whatever others could be made of the rest.
    const double most =
        found.empty() ? 0 : found.front().price() + FreeChoice::price_of_points(aim("first-spare"));
    for (std::size_t i = 0; i < std::min(tried, found.size()); ++i) {
        choice.take(found[i]);
        auto line = best_line(choice, length - 1);
        choice.take_back();
        line.versions.insert(line.versions.begin(), found[i]);
        line.price += found[i].price();
        if (choice.grows() && length == together && line.versions.size() == together)
            line = in_best_order(choice, line, most);
        if (line.better_than(best)) best = std::move(line);
    }
    return best;
}

}  // namespace

std::vector<GraphPath> versions_ahead(FreeChoice& choice, int count) {
    std::vector<GraphPath> paths;
    const auto take = [&](const Candidate& version) {
        paths.push_back(version.path);
        choice.take(version);
    };
    const auto wanted = static_cast<std::size_t>(count);
    const std::size_t ahead = choice.size() > half_beats_together ? 0 : together;
    for (const auto& version : best_line(choice, ahead).versions) take(version);
    const bool more = paths.size() == ahead;
    while (more && paths.size() < wanted) {
        const auto found = choice.candidates();
        if (found.empty()) break;
        take(found.front());
    }
    if (paths.size() > wanted) paths.resize(wanted);
    return paths;
}

}  // namespace relead::reharm
