// Where the lowering stands, and the words in which it says so.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <relead/outcome.h>

#include "tune/meter.h"

namespace relead::tune {

/// A bar while it is read: its address, its meter, and how long it must be.
struct Spot {
    std::string section;
    int bar = 1;  ///< 0 for the pickup
    Meter meter;
    Time length;            ///< 0 for a pickup whose length is not known yet
    bool doubtful = false;  ///< the reader already reported words of this bar: its sum means nothing

    [[nodiscard]] Place place() const;
    /// Place of the beat at an offset from the bar's start.
    [[nodiscard]] Place place(Time at) const;
    /// "A:7", "A:pickup".
    [[nodiscard]] std::string name() const;
};

/// "4", "4 1/2", "2/3".
[[nodiscard]] std::string mixed_number(Fraction number);
/// "1 beat", "4 1/2 beats", "3/4 of a beat".
[[nodiscard]] std::string count_of(Fraction number, std::string_view noun);
/// "no", "one", ... "twelve", then figures.
[[nodiscard]] std::string in_words(std::size_t number);
/// "A", "A and B", "A, B and C".
[[nodiscard]] std::string listed(const std::vector<std::string>& items, std::string_view conjunction = "and");
/// The candidate that is nearest in spelling, when it is near at all; else empty.
[[nodiscard]] std::string nearest_of(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace relead::tune
