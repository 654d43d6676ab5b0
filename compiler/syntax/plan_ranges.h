// Ranges of the numbers in plans. Options of the command line that say the same have the same ranges.
#pragma once

namespace relead::syntax {

/// Both ends belong to it.
struct NumberRange {
    int least = 0;
    int most = 0;
};

/// `outside` and `around`: how far outside, as rules count it.
constexpr NumberRange level_range{1, 5};
/// `depth`: rules one upon the other. The reason for a change names each of them; nobody follows more than
/// four.
constexpr NumberRange depth_range{1, 4};

}  // namespace relead::syntax
