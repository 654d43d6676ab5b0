// The stages from a tune to versions one by one, and what they count on the way.
#pragma once

#include "analysis/analysis.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "reharm/search.h"
#include "tune/tune.h"

namespace relead::bench {

struct StageCounts {
    int alternatives = 0;    ///< built from the rules
    std::size_t arcs = 0;    ///< edges of the unrolled lattice
    std::size_t labels = 0;  ///< partial versions looked at for a version that keeps its distance
};

class Stages {
public:
    /// The tune must outlive it.
    Stages(const tune::Tune& tune, int outside);
    [[nodiscard]] analysis::Analysis analyse() const { return analysis::analyse(tune_); }
    [[nodiscard]] std::size_t match() const;  ///< number of matches
    [[nodiscard]] reharm::Pool build() const;
    [[nodiscard]] reharm::SearchResult search(int versions) const;
    [[nodiscard]] StageCounts count() const;
    /// Half beats that the choice of `versions` listens to, over all that it tries.
    [[nodiscard]] std::int64_t heard(int versions) const;

private:
    const tune::Tune& tune_;
    analysis::Analysis analysis_;
    rules::Chart chart_;
    reharm::BoundPlan plan_;
    reharm::Situation situation_;
    reharm::Pool pool_;
};

}  // namespace relead::bench
