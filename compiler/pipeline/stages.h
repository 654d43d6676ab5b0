// The whole compiler, stage by stage. `relead check --dump STAGE` prints what a stage made.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include <relead/outcome.h>

#include "text/limits.h"
#include "text/source.h"

namespace relead::pipeline {

struct Stage {
    std::string_view name;
    std::string_view meaning;
    /// Text of what the stage made of a source; absent when an earlier stage left nothing usable.
    Outcome<std::string> (*dump)(const text::Source& source, const Limits& limits);
};

/// In the order of the pipeline.
[[nodiscard]] std::span<const Stage> stages();
[[nodiscard]] const Stage* find_stage(std::string_view name);

}  // namespace relead::pipeline
