// How one chord may lead to a later one: the rows of grammar/chord-relations.txt.
#pragma once

#include <string_view>

#include "analysis/heard.h"

namespace relead::analysis {

/// A row of the table.
struct Step {
    int row = 0;
    bool resolves = false;  ///< an ear expects this step as soon as the first chord sounds
    bool same = false;      ///< the same chord again
};
[[nodiscard]] Step step_between(const Heard& from, const Heard& to);
/// "dominant to its goal"; several rows may share a name.
[[nodiscard]] std::string_view step_name(const Step& step);
[[nodiscard]] int step_count();
[[nodiscard]] std::string_view step_name(int row);

}  // namespace relead::analysis
