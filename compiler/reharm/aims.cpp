#include "reharm/aims.h"

#include <cassert>

#include "reharm/tables/aims.h"

namespace relead::reharm {

int aim(std::string_view name) {
    for (const auto& row : tables::aim_rows) {
        if (row.name == name) return row.value;
    }
    assert(false && "an aim that grammar/aims.txt does not have");
    return 0;
}

std::vector<AimInfo> aims() {
    std::vector<AimInfo> all;
    for (const auto& row : tables::aim_rows) all.push_back({row.name, row.value, row.per, row.meaning});
    return all;
}

}  // namespace relead::reharm
