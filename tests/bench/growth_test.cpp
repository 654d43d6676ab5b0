// Growth in counts, not in seconds: edges, alternatives and labels per bar stay what they are while a tune
// gets longer.
#include "bench/growth.h"

#include "bench/material.h"
#include "support/catch.h"

using namespace relead;
using namespace relead::bench;

TEST_CASE("A tune six times as long has six times as many edges and labels, not more") {
    const auto short_tune = long_tune(16, 1);
    const auto long_one = long_tune(96, 1);
    const auto few = Stages(short_tune, 3).count();
    const auto many = Stages(long_one, 3).count();
    const auto per_bar = [](auto count, int bars) { return static_cast<double>(count) / bars; };
    CAPTURE(few.alternatives, few.arcs, few.labels, many.alternatives, many.arcs, many.labels);
    CHECK(few.alternatives > 16);
    CHECK(few.labels > 16);
    // Phrases are drawn at random, so that a long tune is not the short one eight times.
    CHECK(per_bar(many.alternatives, 96) < 1.25 * per_bar(few.alternatives, 16));
    CHECK(per_bar(many.arcs, 96) < 1.5 * per_bar(few.arcs, 16));
    CHECK(per_bar(many.labels, 96) < 1.5 * per_bar(few.labels, 16));
}
