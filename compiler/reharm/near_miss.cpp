#include "reharm/near_miss.h"

#include <algorithm>
#include <cassert>

#include "reharm/tables/near_misses.h"

namespace relead::reharm {
namespace {

/// Steps on the circle of fifths from the local key to the tonic from which the rule was counted.
int fifths_away(const rules::Chart& chart, const rules::Placement& placement) {
    const auto tonic = placement.derivation.back().tonic;
    const auto home = chart.at(placement.begin).fact.local_key.tonic;
    constexpr int semitones_of_fifth = 7, circle = 12;
    const int fifths = theory::semitones_up(home, tonic) * semitones_of_fifth % circle;
    return std::min(fifths, circle - fifths);
}

}  // namespace

int far_off(rules::Objection::Kind objection) {
    const auto word = rules::to_string(objection);
    for (const auto& row : tables::near_miss_rows) {
        if (row.miss == word) return row.far;
    }
    assert(false && "an objection that grammar/near-misses.txt does not have");
    return 1;
}

Miss miss_of(const rules::Chart& chart, const Judged& judged) {
    const auto& refusals = judged.verdict.refusals;
    Miss miss{0, refusals.size(), fifths_away(chart, judged.placement)};
    for (const auto& refusal : refusals)
        if (refusal.kind == Refusal::Kind::rule) miss.far += far_off(refusal.objection);
    return miss;
}

std::vector<std::string_view> near_misses() {
    std::vector<std::string_view> all;
    for (const auto& row : tables::near_miss_rows) all.push_back(row.miss);
    return all;
}

}  // namespace relead::reharm
