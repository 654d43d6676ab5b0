#include "reharm/near_miss.h"

#include <cassert>

#include "reharm/tables/near_misses.h"

namespace relead::reharm {

int far_off(rules::Objection::Kind objection) {
    const auto word = rules::to_string(objection);
    for (const auto& row : tables::near_miss_rows) {
        if (row.miss == word) return row.far;
    }
    assert(false && "an objection that grammar/near-misses.txt does not have");
    return 1;
}

std::vector<std::string_view> near_misses() {
    std::vector<std::string_view> all;
    for (const auto& row : tables::near_miss_rows) all.push_back(row.miss);
    return all;
}

}  // namespace relead::reharm
