// The one table of limits. Passing one is a diagnostic of its own, never a crash.
#pragma once

#include <cstddef>

namespace relead {

struct Limits {
    std::size_t source_bytes = std::size_t{16} << 20;  ///< text-too-long
    std::size_t line_bytes = std::size_t{12} << 20;    ///< line-too-long
    int sections = 200;                                ///< too-many-sections
    int bars = 10'000;                                 ///< too-many-bars, written
    int unfolded_bars = 20'000;                        ///< unfolds-too-long, in playing order
    int chords_in_bar = 32;                            ///< bar-too-full
    int notes_in_bar = 128;                            ///< bar-too-full
    int tuplet_depth = 2;                              ///< nested-too-deep
    int diagnostics = 200;                             ///< too-many-diagnostics: counted on, no longer kept
    int rules = 2'000;                                 ///< too-many-rules
    int plans = 100;                                   ///< too-many-plans
};

}  // namespace relead
