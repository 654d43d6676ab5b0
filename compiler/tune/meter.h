// Meter and tempo.
#pragma once

#include <string>
#include <vector>

#include <relead/fraction.h>
#include <relead/outcome.h>

namespace relead::tune {

/// A time signature. `groups` is the stated grouping of unusual meters (7/8 as 2+2+3); empty = none.
struct Meter {
    int beats = 4;  ///< upper number, 1..64
    int unit = 4;   ///< lower number, a power of two
    std::vector<int> groups;

    [[nodiscard]] Time bar_length() const { return {beats, unit}; }
    /// 6/8, 9/8, 12/8 are counted in dotted beats.
    [[nodiscard]] bool is_compound() const { return unit == 8 && beats % 3 == 0 && beats > 3; }
    [[nodiscard]] Time beat_length() const { return is_compound() ? Time(3, 8) : Time(1, unit); }
    [[nodiscard]] Beats in_beats(Time time) const { return time / beat_length(); }
    friend bool operator==(const Meter&, const Meter&) = default;
};

struct Tempo {
    int beats_per_minute = 120;  ///< beats of the meter per minute
    std::string feel;   ///< swing, even, shuffle, bossa, samba, latin, waltz, ballad, funk, rubato; or ""
    std::string words;  ///< as printed, "" = derived from the feel
    [[nodiscard]] bool swings() const { return feel == "swing" || feel == "shuffle"; }
    friend bool operator==(const Tempo&, const Tempo&) = default;
};

}  // namespace relead::tune
