// Bars as the rows of row groups, for write.h.
#pragma once

#include "syntax/tune_tree.h"
#include "tune/tune.h"

namespace relead::tune {

/// The row groups of a section: four bars a group, endings that belong together in one, a new
/// group where key, meter or tempo change. Lines above the first group are the caller's.
[[nodiscard]] std::vector<syntax::RowGroup> write_groups(const Section& section);
[[nodiscard]] syntax::KeyLine write_key(const theory::Key& key, bool open);
[[nodiscard]] syntax::MeterLine write_meter(const Meter& meter);
[[nodiscard]] syntax::TempoLine write_tempo(const Tempo& tempo);

}  // namespace relead::tune
