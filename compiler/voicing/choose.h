// One candidate for each of a row of steps, so that the sum of what the candidates cost and of what
// lies between neighbours is least: voicings, bass lines. Exact, by the acyclic search of base/.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

namespace relead::voicing {

struct ChainCosts {
    std::function<std::int64_t(std::size_t step, std::size_t candidate)> own;
    /// Between a candidate of `step` and one of the step after it.
    std::function<std::int64_t(std::size_t step, std::size_t candidate, std::size_t next)> between;
};

/// Steps that are looked at together. A longer row is cut into such stretches, each of which goes on
/// from the choice before it, so that memory stays bounded.
inline constexpr std::size_t longest_stretch = 1024;

/// `counts`: how many candidates each step has, at least one. Equal sums: the earlier candidates.
[[nodiscard]] std::vector<std::size_t> choose_cheapest(const std::vector<std::size_t>& counts,
                                                       const ChainCosts& costs,
                                                       std::size_t stretch = longest_stretch);

}  // namespace relead::voicing
