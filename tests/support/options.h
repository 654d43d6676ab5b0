// Options at a place of a small tune, as the built-in rules give them.
#pragma once

#include <string>
#include <vector>

#include "reharm/reharmonise.h"

namespace relead::testing {

/// All of them, under the compiler's own analysis. Fails the test when the place cannot be asked about.
[[nodiscard]] std::vector<reharm::Option> options_at(const tune::Tune& tune, const std::string& place,
                                                     const reharm::Wish& wish = {});
/// The first one by `rule`; fails the test when there is none.
[[nodiscard]] reharm::Option option_by(const tune::Tune& tune, const std::string& place,
                                       const std::string& rule, const reharm::Wish& wish = {});

}  // namespace relead::testing
