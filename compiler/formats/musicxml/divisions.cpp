#include "formats/musicxml/divisions.h"

#include <numeric>

namespace relead::formats {

namespace {

std::int64_t with(std::int64_t divisions, Time time) {
    return std::lcm(divisions, (time * Fraction(4)).denominator());
}

std::int64_t with(std::int64_t divisions, const score::Measure& measure) {
    divisions = with(divisions, measure.length);
    for (const auto& direction : measure.directions) divisions = with(divisions, direction.at);
    for (const auto& harmony : measure.harmonies) divisions = with(divisions, harmony.at);
    for (const auto& voice : measure.voices) {
        for (const auto& element : voice.elements) {
            divisions = with(with(divisions, element.at), element.length);
        }
    }
    return divisions;
}

}  // namespace

int divisions_of(const score::Score& score) {
    std::int64_t divisions = 12;
    for (const auto& part : score.parts) {
        for (const auto& measure : part.measures) divisions = with(divisions, measure);
    }
    return static_cast<int>(divisions);
}

}  // namespace relead::formats
