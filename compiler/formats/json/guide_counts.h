// The counts of a guide-tone line, alike in every document.
#pragma once

#include "report/guide_line.h"

namespace relead::formats::json {

/// `Json` is the document type of the two writers, which alone know it.
template <typename Json>
[[nodiscard]] Json guide_counts_json(const report::GuideCounts& counts) {
    return {{"held", counts.held},
            {"step", counts.step},
            {"skip", counts.skip},
            {"leap", counts.leap},
            {"tendencyTones", counts.tendency_tones},
            {"resolved", counts.resolved},
            {"delayed", counts.delayed},
            {"exact", counts.exact}};
}

}  // namespace relead::formats::json
