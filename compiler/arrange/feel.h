// How a rhythm section plays a feel: the rows of grammar/feels.txt and grammar/swing-ratios.txt.
#pragma once

#include <string_view>

#include <relead/fraction.h>

#include "tune/meter.h"

namespace relead::arrange {

struct Feel {
    std::string_view feel;
    double swing = 0;  ///< 0 even, 1 the tempo's whole swing
    std::string_view comping;
    std::string_view bass_head;
    int head_up_to = 0;  ///< beats a minute
    std::string_view bass;
    std::string_view drums;
    int kit = 1;
};

/// The row of the tempo's feel word; that of `unstated` for a word that the table lacks.
[[nodiscard]] Feel feel_of(const tune::Tempo& tempo);

[[nodiscard]] double quarters_per_minute(const tune::Tempo& tempo, const tune::Meter& meter);

/// Where the second eighth of a quarter falls at full swing: 2/3 up to medium tempos, 1/2 at 300.
[[nodiscard]] double swing_ratio(double quarters_per_minute);
/// The same for a tempo with its feel; even in meters that are not counted in quarters.
[[nodiscard]] double swing_of(const tune::Tempo& tempo, const tune::Meter& meter);

/// The bass style under a head or a solo. Meters counted in eighths (7/8) have a style of their own.
[[nodiscard]] std::string_view bass_style(const tune::Tempo& tempo, const tune::Meter& meter, bool head);

}  // namespace relead::arrange
