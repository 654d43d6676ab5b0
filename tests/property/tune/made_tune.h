// Random tunes that keep every rule of the language: for laws that hold for all tunes.
#pragma once

#include <cstdint>

#include "tune/tune.h"

namespace relead::tune::testing {

/// A small linear congruential generator: the same numbers on every machine.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_(seed * 2862933555777941757ULL + 3037000493ULL) {}
    int below(int limit) {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return static_cast<int>((state_ >> 33) % static_cast<std::uint64_t>(limit));
    }
    int between(int low, int high) { return low + below(high - low + 1); }
    bool one_in(int count) { return below(count) == 0; }
    template <class Items>
    const auto& any(const Items& items) {
        return items[static_cast<std::size_t>(below(static_cast<int>(std::size(items))))];
    }

private:
    std::uint64_t state_;
};

/// The same seed gives the same tune. Every section is played; some tunes have a form, some signs.
[[nodiscard]] Tune make_tune(std::uint64_t seed);

}  // namespace relead::tune::testing
