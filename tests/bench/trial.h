// Versions of a piece and what was counted about them; random legal versions to hold them against.
#pragma once

#include <string>
#include <vector>

#include "bench/material.h"
#include "bench/measures.h"
#include "reharm/reharmonise.h"

namespace relead::bench {

struct VersionTrial {
    reharm::Version version;
    Chorus chorus;
    Measures measures;
    double largest_rule = 0;  ///< share of the rule that has most of the changes; 0 below three changes
    double nearest = 1;       ///< least difference to an earlier version
    double least_dose = 0, most_dose = 1;  ///< what this version should change
    double room = 0;                       ///< at most so much could change with one idea not yet stated
};

struct Trial {
    std::string piece;
    int outside = 3;
    bool dense = false;  ///< three chords in two bars, or more
    double room = 0;     ///< share of the time that could change at most
    std::vector<VersionTrial> versions;
};

/// Up to `versions` versions of a piece at an outside ceiling, without a plan.
[[nodiscard]] Trial try_piece(const Piece& piece, int outside, int versions = 3);

/// Share of `count` random legal versions of the same dose that a version beats, in guide tones and outer
/// voices together; ties count half.
struct Control {
    double guides = 0;
    double outer = 0;
    double both = 0;
    int compared = 0;
};
/// Whether versions are made with all their costs and aims, or again without those of guide tones and outer
/// voices, so that nothing measured here was asked for.
enum class Hearing { whole, deaf };
[[nodiscard]] std::vector<Control> hold_against_random(const Piece& piece, int outside, int count,
                                                       std::uint32_t seed, Hearing hearing, int versions = 3);

}  // namespace relead::bench
