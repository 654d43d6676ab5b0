// How fast: microseconds for a tune of 32 bars, stage by stage, and growth from 32 to 4,096 bars. A report,
// never a test: built as Release. It takes the processor's time, so that what else the machine does counts
// little. `bench_speed [RUNS] [MOST_BARS]`
#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <iostream>
#include <vector>

#include "base/fmt.h"
#include "bench/growth.h"
#include "bench/material.h"

using namespace relead;
using namespace relead::bench;

namespace {

/// Median of the runs, and the middle half around it, in microseconds of one processor.
struct Timing {
    double median = 0, low = 0, high = 0;
};

Timing time_of(int runs, const std::function<void()>& work) {
    std::vector<double> times;
    for (int i = 0; i < runs; ++i) {
        const auto begin = std::clock();
        work();
        times.push_back(1e6 * static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
    }
    std::sort(times.begin(), times.end());
    const auto at = [&](double share) {
        return times[static_cast<std::size_t>(share * static_cast<double>(times.size() - 1))];
    };
    return {at(0.5), at(0.25), at(0.75)};
}

void print(const char* stage, const Timing& timing, double whole) {
    std::cout << fmt::format("  {:34} {:10.0f} us  ({:.0f} to {:.0f})  {:5.1f} %\n", stage, timing.median,
                             timing.low, timing.high, 100 * timing.median / whole);
}

void stages(int runs) {
    const auto piece = made_piece(Style::major, 1);
    std::cout << fmt::format("A tune of 32 bars, AABA, {} runs: median, middle half, share of the whole\n",
                             runs);
    for (const int outside : {2, 3, 5}) {
        const Stages work(piece.tune, outside);
        const auto analysis = time_of(runs, [&] { (void)work.analyse(); });
        const auto matching = time_of(runs, [&] { (void)work.match(); });
        const auto pool = time_of(runs, [&] { (void)work.build(); });
        const auto one = time_of(runs, [&] { (void)work.search(1); });
        const auto three = time_of(runs, [&] { (void)work.search(3); });
        const double whole = analysis.median + pool.median + three.median;
        std::cout << fmt::format(" outside {}: {} alternatives\n", outside, work.build().built);
        print("analysis", analysis, whole);
        print("matching (every rule, as written)", matching, whole);
        print("matching, stacking and judging", pool, whole);
        print("search, one version", one, whole);
        print("search, three versions", three, whole);
    }
}

void growth(int runs, int most_bars) {
    std::cout
        << "\nGrowth of one section played once: per bar, and against the row before\n"
           "   bars   alternatives  edges      labels      analysis us  building us  search us  per bar\n";
    double before = 0;
    for (int bars = 32; bars <= most_bars; bars *= 2) {
        const auto tune = long_tune(bars, 1);
        const Stages work(tune, 3);
        const auto count = work.count();
        const int few = std::max(1, runs * 32 / bars / 4);
        const auto analysis = time_of(few, [&] { (void)work.analyse(); });
        const auto building = time_of(few, [&] { (void)work.build(); });
        const auto search = time_of(few, [&] { (void)work.search(1); });
        const double per_bar = (analysis.median + building.median + search.median) / bars;
        std::cout << fmt::format("  {:5}  {:8.1f}  {:9.1f}  {:10.1f}  {:10.1f}  {:11.1f}  {:9.1f}  {}\n",
                                 bars, count.alternatives / double(bars), double(count.arcs) / bars,
                                 double(count.labels) / bars, analysis.median / bars, building.median / bars,
                                 search.median / bars,
                                 before > 0 ? fmt::format("x {:.2f}", per_bar / before) : std::string());
        before = per_bar;
    }
}

}  // namespace

int main(int count, char** words) {
    const int runs = count > 1 ? std::max(1, std::atoi(words[1])) : 21;
    const int most_bars = count > 2 ? std::atoi(words[2]) : 4096;
    stages(runs);
    growth(runs, most_bars);
}
