// A bass line over changes: walking, two-feel, or the figures of bossa, samba and the rest. Cells from
// grammar/bass-cells.txt are strung together by the exact search: the root stands on every change, approach
// notes lead into the next one, leaps and repetitions cost. Register: the double bass's comfortable range in
// grammar/instruments.txt. Deterministic.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include <relead/fraction.h>

#include "theory/chord.h"
#include "theory/key.h"

namespace relead::voicing {

/// What sounds inside one bar under one chord.
struct BassSpan {
    theory::Chord chord;  ///< a slash chord's bass note takes the root's place
    std::optional<theory::Key> key;
    Time at;
    Time length;
    Time beat{1, 4};                     ///< of the meter
    bool begins = true;                  ///< the chord begins here; false: it sounds on
    std::string_view style = "walking";  ///< a style of the table; "hold" or an unknown one: one long note
};

struct BassNote {
    Time at;
    Time length;
    int key = 40;  ///< sounding
    friend bool operator==(const BassNote&, const BassNote&) = default;
};

struct BassRange {
    int low = 28;
    int high = 50;
};
/// Sounding: E1 to D3.
[[nodiscard]] BassRange bass_range();

/// `spans` in order of time. N.C. is silent. A span whose length the style has no cell for is taken in
/// parts, the longest first.
[[nodiscard]] std::vector<BassNote> bass_line(std::span<const BassSpan> spans);

}  // namespace relead::voicing
