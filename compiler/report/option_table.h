// What could stand at a spot, as neutral rows: the allowed options by cost, then the refused ones.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "reharm/reharmonise.h"

namespace relead::report {

struct OptionRow {
    std::string place;  ///< "A:7.3"
    std::string old_changes;
    std::string new_changes;  ///< with beats where they are uneven: "Dm7*2 G7"
    std::string rule;         ///< name, as plans use it
    std::string title;
    int outside = 1;
    bool allowed = true;
    std::string reason;
    std::string arrival;  ///< guide tones into the chord that follows
    std::string melody;
    bool melody_heard = false;          ///< it is written there and played: notes were judged
    std::string sounding;               ///< for a soloist: what the new chords are over the bass; else empty
    std::vector<std::string> refusals;  ///< sentences; empty when allowed
    bool in_use = true;                 ///< the plan uses its rule
    int rule_refusals = 0;              ///< how many of the rule's own conditions fail here
    std::vector<std::pair<std::string, int>> terms;
    int cost = 0;
};

/// Rows worth a musician's reading: the allowed ones and the refused ones whose rule fits. Where the
/// rules in use were chosen, also those that miss by one or two of the rule's conditions.
[[nodiscard]] std::vector<OptionRow> near_options(const std::vector<OptionRow>& rows);

[[nodiscard]] std::vector<OptionRow> option_table(const std::vector<reharm::Option>& options);

}  // namespace relead::report
