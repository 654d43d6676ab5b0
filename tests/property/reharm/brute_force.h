// What the search must find, by trying everything: a version's cost is worked out from the charts themselves,
// playing by playing, without the lattice.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "reharm/judge.h"
#include "reharm/pair.h"
#include "reharm/pool.h"

namespace relead::testing {

/// What one way of placing costs: placements over all playings, boundaries as often as they are played.
class Reckoning {
public:
    Reckoning(const reharm::Situation& situation, const reharm::Pool& pool);

    /// Nothing when a limit is broken. `chosen` is in order and does not overlap.
    [[nodiscard]] std::optional<std::int64_t> cost(const std::vector<int>& chosen) const;
    [[nodiscard]] bool within_budget(const std::vector<int>& chosen) const;
    [[nodiscard]] bool apart(const std::vector<int>& chosen) const;

private:
    struct Boundary {
        int from = 0, to = 0;  ///< spots
        int times = 1;
    };
    [[nodiscard]] std::optional<int> between(int from, int left, int to, int right) const;
    [[nodiscard]] reharm::End end(int spot, int index, bool last) const;

    const reharm::Situation& situation_;
    const reharm::Pool& pool_;
    std::vector<Boundary> boundaries_;
    struct Known {
        bool asked = false;
        std::optional<int> cost;
    };
    mutable std::vector<std::vector<Known>> known_;
};

/// All ways of placing within the limits, the cheapest first.
struct Everything {
    std::vector<std::pair<std::int64_t, std::vector<int>>> all;
    bool too_many = false;
};
[[nodiscard]] Everything try_everything(const reharm::Situation& situation, const reharm::Pool& pool,
                                        std::size_t most);

/// The best one after the other, as long as it helps and nothing is broken: what the search must beat.
[[nodiscard]] std::int64_t greedy(const reharm::Situation& situation, const reharm::Pool& pool);

/// How each written chord's time sounds.
[[nodiscard]] std::vector<std::string> sound(const rules::Chart& chart,
                                             const std::vector<const rules::Placement*>& placements);
/// Written chords that sound differently.
[[nodiscard]] int difference(const std::vector<std::string>& a, const std::vector<std::string>& b);

}  // namespace relead::testing
