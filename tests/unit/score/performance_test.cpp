// compiler/score/performance.cpp, dump_performance.cpp: swing, tempo, the text of a performance.
#include "score/performance.h"

#include <cmath>

#include "score/dump.h"
#include "support/catch.h"

using namespace relead;
using namespace relead::score;

namespace {

bool close(double a, double b) {
    return std::abs(a - b) < 1e-9;
}

}  // namespace

TEST_CASE("Swing stretches the first half of a quarter", "[score]") {
    const struct {
        Time at;
        double swing;
        double sounds;  // in quarters
    } rows[] = {
        {0, 2.0 / 3, 0},
        {{1, 8}, 2.0 / 3, 2.0 / 3},
        {{1, 4}, 2.0 / 3, 1},
        {{3, 8}, 2.0 / 3, 1 + 2.0 / 3},
        {{1, 8}, 0.5, 0.5},
        {{1, 16}, 2.0 / 3, 1.0 / 3},
        {{3, 16}, 2.0 / 3, 5.0 / 6},
        // Triplets and quintuplets are not swung.
        {{1, 12}, 2.0 / 3, 1.0 / 3},
        {{1, 6}, 2.0 / 3, 2.0 / 3},
        {{1, 20}, 2.0 / 3, 0.2},
    };
    for (const auto& row : rows) {
        INFO(row.at.to_string() << " at " << row.swing);
        CHECK(close(swung(row.at, row.swing) * 4, row.sounds));
    }
}

TEST_CASE("Quarters are counted from the grid", "[score]") {
    // After a pickup of an eighth the first full bar begins on the grid.
    CHECK(close(swung({1, 8}, 2.0 / 3, {1, 8}), 0.125));
    CHECK(close(swung({1, 4}, 2.0 / 3, {1, 8}), 0.125 + 1.0 / 6));
    // Before the grid too: an eighth before it is the second one of its quarter.
    CHECK(close(swung(0, 2.0 / 3, {1, 8}), 0.125 - 1.0 / 12));
}

TEST_CASE("Swing never changes the order of moments", "[score]") {
    for (const double swing : {0.5, 0.55, 2.0 / 3, 0.75})
        for (int i = 0; i < 64; ++i) CHECK(swung(Time(i, 32), swing) < swung(Time(i + 1, 32), swing));
}

TEST_CASE("The swing in force is the last mark's", "[score]") {
    Performance performance;
    performance.swing = 2.0 / 3;
    performance.swings = {{0, 2.0 / 3}, {1, 0.5}};
    CHECK(close(swung(performance, {1, 8}), 1.0 / 6));
    CHECK(close(swung(performance, {9, 8}), 1.125));
}

TEST_CASE("After a bar of seven eighths quarters are counted anew", "[score]") {
    Performance performance;
    performance.swing = 0.5;
    performance.swings = {{0, 0.5}, {{7, 8}, 2.0 / 3}};
    CHECK(close(swung(performance, {7, 8}), 7.0 / 8));
    CHECK(close(swung(performance, 1), 7.0 / 8 + 1.0 / 6));
    CHECK(close(swung(performance, {9, 8}), 9.0 / 8));
}

TEST_CASE("Seconds follow the tempo marks", "[score]") {
    Performance performance;
    performance.tempi = {{0, 120}, {2, 60}, {3, 240}};
    CHECK(close(seconds_at(performance, 1), 2));
    CHECK(close(seconds_at(performance, 2), 4));
    CHECK(close(seconds_at(performance, {5, 2}), 6));
    CHECK(close(seconds_at(performance, 4), 9));
}

TEST_CASE("A performance as text", "[score]") {
    Performance performance;
    performance.title = "Slip";
    performance.name = "mild";
    performance.length = 2;
    performance.tempi = {{0, 120}};
    performance.meters = {{0, 4, 4}};
    performance.keys = {{0, -3, true}};
    performance.markers = {{1, "A"}};
    performance.voices = {
        {SoundingVoice::Role::bass, "Bass", 33, {{{1, 4}, {1, 4}, 41, 80}, {1, {1, 2}, 36, 80}}, 1},
        {SoundingVoice::Role::time, "Drums", 0, {{{3, 2}, {1, 16}, 51, 50}}, 41}};
    CHECK(dump(performance) ==
          "Slip / mild\nlength 2, count-in 0, swing 0.500\ntempo 0 120\nmeter 0 4/4\nkey 0 -3 minor\nmarker "
          "1 A\n"
          "Bass (program 33)\n   1 | F2@1/4+1/4\n   2 | C2@0+1/2\nDrums (kit 41)\n   2 | 51@1/2\n");
}
