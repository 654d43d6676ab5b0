#include "voicing/registers.h"

#include "voicing/tables/guide_line.h"
#include "voicing/tables/registers.h"

namespace relead::voicing {

namespace {

int weight(std::string_view name) {
    for (const auto& row : tables::guide_line_weight_rows) {
        if (row.name == name) return row.value;
    }
    return 0;  // a test reads every name
}

}  // namespace

std::optional<Register> find_register(std::string_view name) {
    for (const auto& row : tables::voice_register_rows) {
        if (row.name == name) return Register{row.low, row.high};
    }
    return std::nullopt;
}

GuideLineWeights guide_line_weights() {
    GuideLineWeights weights;
    if (const auto where = find_register("guide-tones")) weights.where = *where;
    weights.motion = weight("motion");
    weights.drift = weight("drift");
    weights.free = weight("free");
    weights.widest = weight("widest");
    return weights;
}

}  // namespace relead::voicing
