// Function of each chord and what dominants and their iis are applied to.
#pragma once

#include <string>
#include <vector>

#include "analysis/reading.h"

namespace relead::analysis {

struct Duty {
    Function function = Function::other;
    int goal = -1;  ///< chord (in playing order) whose dominant it is or serves
    bool related_ii = false;
    bool blues_tonic = false;
    bool deceptive = false;
    bool common_tone = false;
    bool by_fifth = false;  ///< a substitute whose goal is the next substitute of a chain
};
[[nodiscard]] std::vector<Duty> functions_of(const ChorusReading& reading);

/// Without what it is applied to, named as musicians count: bIII rather than #II, VII rather than bI, but
/// #ii° stays (common practice, no source). N.C. gives its symbol.
[[nodiscard]] std::string plain_numeral(const theory::Chord& chord, theory::NoteName tonic);

/// "ii7", "V7/ii", "subV7/V", "ii7/IV", "bVII7": against the local tonic's major scale.
[[nodiscard]] std::string numeral_of(const ChorusReading& reading, const std::vector<Duty>& duties, int i,
                                     theory::NoteName local_tonic);

}  // namespace relead::analysis
