// Charts made from a rule: the chords that it finds, between those that it asks for. Part of
// example_chart.h.
#pragma once

#include "rules/example_chart.h"
#include "rules/rule.h"

namespace relead::rules {

/// Charts in `home` that hold what the rule finds, in several lengths, places and tonics. True when the
/// reader had enough.
bool made_charts(const Rule& rule, const theory::Key& home, const ChartReader& enough);
[[nodiscard]] bool is_about_melody(const Condition& condition);

}  // namespace relead::rules
