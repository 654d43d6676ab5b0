// How much of a tune could change at all: the bound against which a version that changes little is held.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "analysis/analysis.h"
#include "bench/material.h"

namespace relead::bench {

/// Shares of the time of a chorus that legal placements can change together, whatever they cost. Up to level
/// 3 they keep section starts, last cadences and bar 5 of a blues.
class Room {
public:
    Room(const Piece& piece, const analysis::Analysis& analysis, int outside);
    ~Room();
    /// Without any further condition.
    [[nodiscard]] double of_all() const;
    /// With half of the changes from one idea of the table that is not among `stated`: no version can have
    /// more, most must have less, since nothing else is asked of them here.
    [[nodiscard]] double of_one_idea(const std::vector<std::size_t>& stated) const;

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace relead::bench
