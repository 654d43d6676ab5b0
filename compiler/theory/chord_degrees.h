// The part of a chord symbol between root and bass: a spelling of the table and further degrees.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "theory/chord.h"

namespace relead::theory {

/// What a body says, already in normal form; or why not.
struct BodyReading {
    ChordProblem::Kind problem = ChordProblem::Kind::empty;  ///< `empty` = none
    std::size_t failed_at = 0;                               ///< byte of the body where reading stopped
    std::string_view spelling;                               ///< the table's spelling that was found
    QualityId quality;
    std::vector<Degree> extra;
    std::vector<int> omitted;
    std::vector<std::string> remarks;  ///< with {chord} and {root} to be filled in
};

/// `body` in folded form. Of several readings the one with the longest spelling of the table counts.
[[nodiscard]] BodyReading read_body(std::string_view body);

/// The body as Relead writes it: the quality's name and the other degrees, "7(b9,#11)".
[[nodiscard]] std::string canonical_suffix(const Chord& chord);

}  // namespace relead::theory
