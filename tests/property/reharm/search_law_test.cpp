// compiler/reharm/search.cpp against trying everything: 5,000 small tunes of up to 12 bars with shared
// sections, endings, budgets, locks, stacked rules and versions that keep their distance. Tunes with more
// ways than can be tried are passed over and others taken in their place. A build that does not optimise
// compares the first 1,000; RELEAD_SEARCH_SEEDS asks for another count.
#include <algorithm>

#include "brute_force.h"
#include "random_tunes.h"
#include "reharm/search.h"
#include "rules/chart.h"
#include "support/catch.h"
#include "support/how_many.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

constexpr std::size_t most_ways = 60'000;

using Sound = std::vector<std::string>;

Sound heard(const rules::Chart& chart, const reharm::Found& version) {
    std::vector<const rules::Placement*> placements;
    for (const auto& judged : version.placements) placements.push_back(&judged.placement);
    return testing::sound(chart, placements);
}

bool keeps_its_distance(const Sound& sound, const std::vector<Sound>& earlier, int least) {
    for (const auto& one : earlier) {
        if (testing::difference(sound, one) < least) return false;
    }
    return true;
}

/// The cost of the best way that keeps its distance from each earlier version.
std::optional<std::int64_t> best_apart(const testing::Everything& everything, const reharm::Pool& pool,
                                       const rules::Chart& chart, const std::vector<Sound>& earlier,
                                       int least) {
    for (const auto& [cost, chosen] : everything.all) {
        std::vector<const rules::Placement*> placements;
        for (const int index : chosen)
            placements.push_back(&pool.placements[static_cast<std::size_t>(index)].placement);
        if (keeps_its_distance(testing::sound(chart, placements), earlier, least)) return cost;
    }
    return std::nullopt;
}

struct Tally {
    unsigned solved = 0, second = 0, third = 0, greedy_worse = 0, with_changes = 0, stacked = 0;
};

/// Empty when all agrees; otherwise what does not.
std::string check_versions(const reharm::SearchResult& result, const testing::Everything& everything,
                           const reharm::Pool& pool, const rules::Chart& chart,
                           const reharm::SearchWish& wish) {
    std::vector<Sound> earlier;
    for (int v = 0; v < wish.versions; ++v) {
        const auto wanted = best_apart(everything, pool, chart, earlier, wish.least_difference);
        const bool found = v < static_cast<int>(result.versions.size());
        const auto which = "version " + std::to_string(v + 1);
        if (wanted.has_value() != found) return which + (found ? " should not be there" : " is missing");
        if (!wanted) break;
        const auto& version = result.versions[static_cast<std::size_t>(v)];
        if (version.cost != *wanted)
            return which + " costs " + std::to_string(version.cost) + ", not " + std::to_string(*wanted);
        auto sound = heard(chart, version);
        if (!keeps_its_distance(sound, earlier, wish.least_difference)) return which + " is too near";
        earlier.push_back(std::move(sound));
    }
    return {};
}

/// The way among all that sounds like the version and costs as much.
bool is_one_of(const testing::Everything& everything, const reharm::Pool& pool, const rules::Chart& chart,
               const reharm::Found& version) {
    const auto sound = heard(chart, version);
    return std::any_of(everything.all.begin(), everything.all.end(), [&](const auto& way) {
        if (way.first != version.cost) return false;
        std::vector<const rules::Placement*> placements;
        for (const int index : way.second)
            placements.push_back(&pool.placements[static_cast<std::size_t>(index)].placement);
        return testing::sound(chart, placements) == sound;
    });
}

struct IdeasTally {
    unsigned counted = 0, full = 0, second = 0;
};

/// Versions that are chosen by ideas from a plan that counts changes.
void try_ideas(unsigned seed, IdeasTally& tally) {
    std::mt19937 random(seed);
    const auto text = testing::random_tune(random);
    const auto few = testing::some_rules(random);
    const auto tune = testing::read_whole(text);
    const auto reading = testing::plain_reading(tune);
    const auto chart = rules::make_chart(tune, reading);
    auto plan = reharm::bind_plan(tune, few, {});
    REQUIRE(plan.value.has_value());
    if (!plan.value->plan.at_most) return;
    const reharm::Situation situation{tune, chart, few, *plan.value};
    const auto pool = testing::with_random_costs(reharm::build_pool(situation, {}), random);
    const auto everything = testing::try_everything(situation, pool, most_ways);
    if (everything.too_many) return;
    ++tally.counted;
    reharm::SearchWish wish;
    wish.versions = 3;
    const auto result = reharm::search(situation, pool, wish);
    std::vector<Sound> earlier;
    for (const auto& version : result.versions) {
        INFO("seed " << seed << ", version " << earlier.size() + 1 << "\n" << text);
        CHECK(is_one_of(everything, pool, chart, version));
        auto sound = heard(chart, version);
        CHECK(keeps_its_distance(sound, earlier, 1));
        earlier.push_back(std::move(sound));
    }
    REQUIRE_FALSE(result.versions.empty());
    int touched = 0;
    for (const auto& judged : result.versions.front().placements) touched += judged.touched;
    tally.full += touched >= *plan.value->plan.at_most ? 1 : 0;
    tally.second += result.versions.size() > 1 ? 1 : 0;
}

void try_seed(unsigned seed, Tally& tally) {
    std::mt19937 random(seed);
    const auto text = testing::random_tune(random);
    const auto few = testing::some_rules(random);
    const auto tune = testing::read_whole(text);
    const auto reading = testing::plain_reading(tune);
    const auto chart = rules::make_chart(tune, reading);
    auto plan = reharm::bind_plan(tune, few, {});
    REQUIRE(plan.value.has_value());
    const reharm::Situation situation{tune, chart, few, *plan.value};
    const auto pool = testing::with_random_costs(reharm::build_pool(situation, {}), random);
    const auto everything = testing::try_everything(situation, pool, most_ways);
    if (everything.too_many) return;
    ++tally.solved;
    reharm::SearchWish wish;
    wish.versions = 3;
    wish.least_difference = 1 + static_cast<int>(testing::roll(random, 3));
    wish.dose = false;
    const auto result = reharm::search(situation, pool, wish);
    const auto wrong = check_versions(result, everything, pool, chart, wish);
    if (!wrong.empty()) FAIL("seed " << seed << ": " << wrong << "\n" << text);
    const auto& first = result.versions.front();
    tally.second += result.versions.size() > 1 ? 1 : 0;
    tally.third += result.versions.size() > 2 ? 1 : 0;
    tally.with_changes += first.placements.empty() ? 0 : 1;
    bool stacked = false;
    for (const auto& judged : first.placements) stacked = stacked || judged.placement.depth() > 1;
    tally.stacked += stacked ? 1 : 0;
    tally.greedy_worse += testing::greedy(situation, pool) > first.cost ? 1 : 0;
}

}  // namespace

TEST_CASE("versions are the best of everything that could be placed", "[search]") {
    const auto wanted = testing::how_many("RELEAD_SEARCH_SEEDS", 5000, 1000);
    const auto most_seeds = wanted + wanted / 10;
    Tally tally;
    unsigned seed = 0;
    while (tally.solved < wanted && seed < most_seeds) try_seed(++seed, tally);
    INFO(seed << " tunes, " << tally.solved << " compared, " << tally.second << " with a second version, "
              << tally.third << " with a third, greedy worse " << tally.greedy_worse << ", stacked "
              << tally.stacked);
    CHECK(tally.solved == wanted);
    CHECK(tally.with_changes > wanted * 9 / 10);
    CHECK(tally.second > wanted / 2);
    CHECK(tally.third > wanted / 3);
    CHECK(tally.stacked > wanted / 20);
    // Tunes on which choosing one by one does as well would prove little.
    CHECK(tally.greedy_worse * 5 >= tally.solved);
}

TEST_CASE("versions of a counted plan keep within its count, and each sounds otherwise", "[search]") {
    const auto seeds = testing::how_many("RELEAD_SEARCH_SEEDS", 5000, 1000) / 10;
    IdeasTally tally;
    for (unsigned seed = 1; seed <= seeds; ++seed) try_ideas(seed, tally);
    INFO(seeds << " tunes, " << tally.counted << " with a count, " << tally.full << " of them use it up, "
               << tally.second << " have a second version");
    CHECK(tally.counted > seeds / 4);
    CHECK(tally.full > tally.counted / 2);
    CHECK(tally.second > tally.counted / 2);
}
