// A rule at work, as neutral rows: a small tune, what it becomes, and why.
#pragma once

#include <string>
#include <vector>

#include "report/change_table.h"
#include "report/side_by_side.h"

namespace relead::report {

struct RuleExample {
    std::string key;                ///< "Eb major"
    bool from_rule = false;         ///< the changes are the rule's own example; otherwise made to fit it
    bool for_soloist = false;       ///< the lower row goes over the upper one
    std::vector<SectionPair> bars;  ///< empty when the change was refused
    ChangeRow change;
    std::vector<std::string> refusals;  ///< why the engine would not write it; empty when it does
};

}  // namespace relead::report
