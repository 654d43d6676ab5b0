// Growth in counts, not in seconds: edges, alternatives and labels per bar stay what they are while a tune
// gets longer, and so nearly does what a choice of versions listens to.
#include "bench/growth.h"

#include "bench/material.h"
#include "support/catch.h"

using namespace relead;
using namespace relead::bench;

namespace {

/// Many against few, bar for bar.
template <class Count>
double growth(Count few, int few_bars, Count many, int many_bars) {
    return static_cast<double>(many) / many_bars / (static_cast<double>(few) / few_bars);
}

/// What two tunes of so many bars count together.
StageCounts two_tunes(int bars) {
    StageCounts sum;
    for (const std::uint32_t seed : {1U, 2U}) {
        const auto tune = long_tune(bars, seed);
        const auto counts = Stages(tune, 3).count();
        sum.alternatives += counts.alternatives;
        sum.arcs += counts.arcs;
        sum.labels += counts.labels;
    }
    return sum;
}

}  // namespace

TEST_CASE("A tune three times as long has three times as many edges and labels, or a twentieth more") {
    // Below some hundred bars the places at the ends that keep their chords weigh in the average. Phrases are
    // drawn at random, so that a long tune is not the short one three times: hence two of each, and the
    // twentieth.
    constexpr int few_bars = 120, many_bars = 3 * few_bars;
    const auto few = two_tunes(few_bars), many = two_tunes(many_bars);
    CAPTURE(few.alternatives, few.arcs, few.labels, many.alternatives, many.arcs, many.labels);
    CHECK(few.alternatives > 2 * few_bars);
    CHECK(few.labels > 2 * few_bars);
    CHECK(growth(few.alternatives, few_bars, many.alternatives, many_bars) < 1.05);
    CHECK(growth(few.arcs, few_bars, many.arcs, many_bars) < 1.05);
    CHECK(growth(few.labels, few_bars, many.labels, many_bars) < 1.05);
}

TEST_CASE("Choosing for a tune three times as long listens to three times as much, or a quarter more") {
    // Both are short enough for three versions chosen together. Bettering a version looks at the whole of it
    // for each change that it tries, and a longer one has more of them.
    constexpr int few_bars = 40, many_bars = 3 * few_bars;
    const auto short_tune = long_tune(few_bars, 1);
    const auto long_one = long_tune(many_bars, 1);
    const auto few = Stages(short_tune, 3).heard(1);
    const auto many = Stages(long_one, 3).heard(1);
    CAPTURE(few, many);
    constexpr int half_beats_a_bar = 8;
    CHECK(few > few_bars * half_beats_a_bar);
    CHECK(growth(few, few_bars, many, many_bars) < 1.25);
}
