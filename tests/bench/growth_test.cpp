// Growth in counts, not in seconds: edges, alternatives and labels per bar stay what they are while a tune
// gets longer.
#include "bench/growth.h"

#include "bench/material.h"
#include "support/catch.h"

using namespace relead;
using namespace relead::bench;

TEST_CASE("A tune three times as long has three times as many edges and labels, not more") {
    // Below some forty bars the places at the ends that keep their chords weigh in the average.
    constexpr int few_bars = 40, many_bars = 3 * few_bars;
    const auto short_tune = long_tune(few_bars, 1);
    const auto long_one = long_tune(many_bars, 1);
    const auto few = Stages(short_tune, 3).count();
    const auto many = Stages(long_one, 3).count();
    const auto per_bar = [](auto count, int bars) { return static_cast<double>(count) / bars; };
    CAPTURE(few.alternatives, few.arcs, few.labels, many.alternatives, many.arcs, many.labels);
    CHECK(few.alternatives > few_bars);
    CHECK(few.labels > few_bars);
    // Phrases are drawn at random, so that a long tune is not the short one three times.
    CHECK(per_bar(many.alternatives, many_bars) < 1.25 * per_bar(few.alternatives, few_bars));
    CHECK(per_bar(many.arcs, many_bars) < 1.5 * per_bar(few.arcs, few_bars));
    CHECK(per_bar(many.labels, many_bars) < 1.5 * per_bar(few.labels, few_bars));
}
