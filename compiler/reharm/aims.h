// What versions aim at: the numbers of grammar/aims.txt.
#pragma once

#include <string_view>
#include <vector>

namespace relead::reharm {

/// The value of an aim. Precondition: the table has it (a test reads every name used).
[[nodiscard]] int aim(std::string_view name);

struct AimInfo {
    std::string_view name;
    int value = 0;
    std::string_view per;
    std::string_view meaning;
};
[[nodiscard]] std::vector<AimInfo> aims();

}  // namespace relead::reharm
