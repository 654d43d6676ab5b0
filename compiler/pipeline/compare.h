// The written changes, versions of them and other tunes over the same bars, and everything that a band gets
// to see and hear of the comparison.
#pragma once

#include <string>
#include <vector>

#include <relead/outcome.h>

#include "pipeline/compile.h"
#include "report/comparison.h"

namespace relead::pipeline {

/// Another tune that stands under the written one.
struct OtherTune {
    std::string name;
    tune::Tune tune;
};

/// A row of the comparison but the first: where its music comes from.
struct ComparedTune {
    std::string name;
    const tune::Tune* tune = nullptr;
    const reharm::Version* version = nullptr;  ///< null for another tune
};

/// Which version it is, for print: "mild 2 \u00b7 174225a7 \u00b7 25 November 2026".
[[nodiscard]] std::string stamp_of(const ComparedTune& row);

struct Compared {
    tune::Tune tune;
    std::vector<reharm::Choices> choices;  ///< one for each wish
    std::vector<OtherTune> others;
    report::Comparison comparison;
    /// A word for file names for each row of the comparison, no two alike: "written", "mild", "mild-2".
    std::vector<std::string> words;

    /// Rows 1, 2 … of the comparison. They point into this value.
    [[nodiscard]] std::vector<ComparedTune> rows() const;
};

/// Reharmonises `tune` once for each wish and lays the versions and the other tunes under it. The value is
/// absent when a wish was not understood.
[[nodiscard]] Outcome<Compared> compare(tune::Tune tune, const rules::RuleSet& rules,
                                        const std::vector<reharm::Wish>& wishes,
                                        std::vector<OtherTune> others);

}  // namespace relead::pipeline
