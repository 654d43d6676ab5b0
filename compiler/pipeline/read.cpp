#include "pipeline/read.h"

#include "analysis/analysis.h"
#include "tune/lower.h"

namespace relead::pipeline {

Outcome<tune::Tune> read_tune(const text::Source& source, const Limits& limits) {
    return tune::read_tune(source, limits, analysis::estimate_key);
}

}  // namespace relead::pipeline
