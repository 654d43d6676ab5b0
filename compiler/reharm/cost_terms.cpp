#include "reharm/cost_terms.h"

#include <cassert>

#include "reharm/tables/cost_terms.h"

namespace relead::reharm {

int weight(std::string_view term) {
    for (const auto& row : tables::cost_term_rows) {
        if (row.name == term) return row.value;
    }
    assert(false && "a cost term that grammar/cost-terms.txt does not have");
    return 0;
}

std::vector<CostTermInfo> cost_terms() {
    std::vector<CostTermInfo> all;
    for (const auto& row : tables::cost_term_rows) all.push_back({row.name, row.value, row.per, row.meaning});
    return all;
}

int other_function(int ceiling) {
    return weight("other-function") / (stays_inside(ceiling) ? 1 : 4);
}

bool stays_inside(int ceiling) {
    constexpr int inside = 3;
    return ceiling <= inside;
}

void charge(Verdict& verdict, std::string_view term, int times) {
    if (times == 0) return;
    const int value = weight(term) * times;
    verdict.terms.push_back({std::string(term), value});
    verdict.cost += value;
}

}  // namespace relead::reharm
