// Function of each chord and what dominants and their iis are applied to.
#pragma once

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

}  // namespace relead::analysis
