// compiler/analysis: laws over many made-up tunes.
#include <algorithm>
#include <set>

#include "analysis/analysis.h"
#include "analysis/heard.h"
#include "property/analysis/made_changes.h"
#include "property/tune/made_tune.h"
#include "support/catch.h"
#include "tune/transpose.h"

using namespace relead;
using analysis::Analysis;
using analysis::ChordFact;
using analysis::Function;

namespace {

constexpr std::uint64_t many = 300;

int bars_of(std::uint64_t seed) {
    constexpr int lengths[] = {1, 4, 7, 8, 12, 16, 32};
    return lengths[seed % std::size(lengths)];
}

std::vector<int> targets_of(const Analysis& analysis) {
    std::vector<int> targets;
    for (const auto& fact : analysis.chords)
        targets.push_back(fact.target.value_or(static_cast<int>(analysis.chords.size())));
    return targets;
}

/// Follows the targets of each chord to the end; a chord that never gets there, or -1.
int first_that_goes_round(const Analysis& analysis) {
    const auto targets = targets_of(analysis);
    const int count = static_cast<int>(targets.size());
    for (int i = 0; i < count; ++i) {
        int at = i, steps = 0;
        while (at < count && steps <= count) {
            at = targets[static_cast<std::size_t>(at)];
            ++steps;
        }
        if (steps > count) return i;
    }
    return -1;
}

bool crosses(const std::vector<int>& targets) {
    const int count = static_cast<int>(targets.size());
    for (int i = 0; i < count; ++i) {
        const auto [from, to] = std::minmax(i, targets[static_cast<std::size_t>(i)]);
        for (int k = from + 1; k < to; ++k) {
            const int target = targets[static_cast<std::size_t>(k)];
            if (target < from || target > to) return true;
        }
    }
    return false;
}

void require_one_target_each(const Analysis& analysis, std::size_t chords) {
    REQUIRE(analysis.chords.size() == chords);
    int ends = 0;
    for (const auto& fact : analysis.chords) {
        if (fact.target) REQUIRE(*fact.target >= 0);
        if (fact.target) REQUIRE(*fact.target <= static_cast<int>(chords));
        if (!fact.target) ++ends;
    }
    REQUIRE(ends <= 1);
}

void require_same(const Analysis& a, const Analysis& b) {
    REQUIRE(a.chords.size() == b.chords.size());
    REQUIRE(targets_of(a) == targets_of(b));
    REQUIRE(a.exact == b.exact);
    for (std::size_t i = 0; i < a.chords.size(); ++i) {
        const auto &x = a.chords[i], &y = b.chords[i];
        INFO("chord " << i << " " << x.numeral << " and " << y.numeral);
        REQUIRE(x.function == y.function);
        REQUIRE(x.relation == y.relation);
        REQUIRE(x.target == y.target);
        REQUIRE(x.applied_to == y.applied_to);
        for (const auto flag : {&ChordFact::related_ii, &ChordFact::in_modal_stretch, &ChordFact::blues_tonic,
                                &ChordFact::over_pedal, &ChordFact::deceptive, &ChordFact::line_cliche,
                                &ChordFact::planing, &ChordFact::turnaround})
            REQUIRE(x.*flag == y.*flag);
        REQUIRE(x.playings == y.playings);
    }
}

/// Where a backdoor may lead: the home tonic at rest, the seventh chord of a blues included, or iii for it.
bool is_home_tonic_or_iii(const Analysis& analysis, const ChordFact& fact, const theory::Chord& chord) {
    using analysis::Sound;
    const auto sound = analysis::sound_of(chord);
    const bool minor = theory::is_minor_like(analysis.home);
    const int degree = (theory::pitch_class(chord.root) - theory::pitch_class(analysis.home.tonic) + 12) % 12;
    if (degree == 4) return !minor && sound == Sound::minor_seventh;
    if (degree != 0) return false;
    if (sound == Sound::dominant) return fact.blues_tonic;
    return sound == Sound::major || sound == Sound::minor || (minor && sound == Sound::minor_seventh);
}

bool same_key(const theory::Key& a, const theory::Key& b, int up) {
    return (theory::pitch_class(a.tonic) + up) % 12 == theory::pitch_class(b.tonic) && a.mode == b.mode;
}

}  // namespace

TEST_CASE("Every chord depends on one other, and arrows never cross or go round", "[property][analysis]") {
    for (std::uint64_t seed = 0; seed < many; ++seed) {
        const auto tune = testing::made_changes_tune(seed, bars_of(seed));
        INFO("seed " << seed << ": " << testing::made_changes(seed, bars_of(seed)));
        const auto analysis = analysis::analyse(tune);
        require_one_target_each(analysis, tune::written_chords(tune).size());
        REQUIRE(first_that_goes_round(analysis) == -1);
        REQUIRE_FALSE(crosses(targets_of(analysis)));
        REQUIRE(analysis.exact);
        REQUIRE(analysis.window == 0);
    }
}

TEST_CASE("Arrows lead back only where a part is played again", "[property][analysis]") {
    int back = 0, shades = 0;
    for (std::uint64_t seed = 0; seed < many; seed += 3) {
        const auto tune = tune::testing::make_tune(seed);
        INFO("seed " << seed);
        const auto analysis = analysis::analyse(tune);
        require_one_target_each(analysis, tune::written_chords(tune).size());
        std::set<int> positions;
        for (std::size_t i = 0; i < analysis.chords.size(); ++i) {
            const auto& fact = analysis.chords[i];
            for (const int playing : fact.playings) REQUIRE(positions.insert(playing).second);
            INFO("chord " << i << " to " << fact.target.value_or(-1));
            if (fact.colours_earlier) {  // a shade of a chord that has sounded, and nothing else
                REQUIRE(fact.target);
                REQUIRE(fact.relation == analysis::Relation::prolongs);
                const auto& goal = analysis.chords[static_cast<std::size_t>(*fact.target)];
                if (fact.playings.empty()) continue;  // of the last chorus alone
                REQUIRE(goal.playings.front() < fact.playings.front());
                ++shades;
                continue;
            }
            if (!fact.target || *fact.target > static_cast<int>(i) || fact.playings.empty()) continue;
            // Later in playing order all the same.
            const auto& goal = analysis.chords[static_cast<std::size_t>(*fact.target)];
            REQUIRE(goal.playings.back() > fact.playings.front());
            ++back;
        }
        if (!positions.empty()) REQUIRE(*positions.rbegin() + 1 == static_cast<int>(positions.size()));
    }
    CHECK(back > 20);
    CHECK(shades > 5);
}

TEST_CASE("The same tune is always analysed alike", "[property][analysis]") {
    for (std::uint64_t seed = 0; seed < many; seed += 3) {
        const auto tune = testing::made_changes_tune(seed, bars_of(seed));
        const auto once = analysis::analyse(tune);
        const auto again = analysis::analyse(testing::made_changes_tune(seed, bars_of(seed)));
        INFO("seed " << seed);
        require_same(once, again);
        for (std::size_t i = 0; i < once.chords.size(); ++i) {
            REQUIRE(once.chords[i].numeral == again.chords[i].numeral);
            REQUIRE(once.chords[i].local_key == again.chords[i].local_key);
        }
    }
}

TEST_CASE("A seed makes the same changes with every compiler", "[property][analysis]") {
    // Two draws in one argument list would be made in an order of the compiler's own.
    CHECK(testing::made_changes(3, 4) == "F#9 | A7sus4 | F | Dm7");
    CHECK(testing::made_changes(5, 8) == "F7 | Bb7 | F7 | Gm7b5 | C7b9 | Fm6 | F7 | Abmaj7 Fmaj7");
}

TEST_CASE("All twelve keys are analysed alike", "[property][analysis]") {
    for (std::uint64_t seed = 0; seed < many; seed += 13) {
        const auto tune =
            seed % 2 == 0 ? testing::made_changes_tune(seed, bars_of(seed)) : tune::testing::make_tune(seed);
        if (analysis::hear(tune).chords.empty()) continue;  // silence is in C
        const auto here = analysis::analyse(tune);
        for (int fifths = -5; fifths <= 6; ++fifths) {
            const auto moved = tune::transpose_to(tune, theory::NoteName{fifths});
            const auto there = analysis::analyse(moved);
            INFO("seed " << seed << ", fifths " << fifths);
            require_same(here, there);
            const int up =
                (theory::pitch_class(moved.key.tonic) - theory::pitch_class(tune.key.tonic) + 12) % 12;
            REQUIRE(same_key(here.estimated, there.estimated, up));
            for (std::size_t i = 0; i < here.chords.size(); ++i) {
                REQUIRE(same_key(here.chords[i].local_key, there.chords[i].local_key, up));
                REQUIRE(here.chords[i].numeral == there.chords[i].numeral);
            }
        }
    }
}

TEST_CASE("The estimated key never looks at the header", "[property][analysis]") {
    for (std::uint64_t seed = 0; seed < many; seed += 5) {
        auto tune = testing::made_changes_tune(seed, bars_of(seed));
        const auto bare = analysis::analyse(tune);
        REQUIRE_FALSE(bare.given);
        REQUIRE(bare.home == bare.estimated);
        for (const auto mode : {theory::Mode::major, theory::Mode::minor, theory::Mode::blues}) {
            const theory::Key key{theory::NoteName{static_cast<int>(seed % 11) - 5}, mode};
            tune.given_key = tune.key = key;
            const auto told = analysis::analyse(tune);
            INFO("seed " << seed);
            REQUIRE(theory::pitch_class(told.estimated.tonic) == theory::pitch_class(bare.estimated.tonic));
            REQUIRE(told.estimated.mode == bare.estimated.mode);
            REQUIRE(told.home == key);
        }
    }
}

TEST_CASE("What a chord is called fits what it does", "[property][analysis]") {
    int dominants = 0, substitutes = 0, chains = 0, backdoors = 0, iis = 0;
    for (std::uint64_t seed = 0; seed < many; ++seed) {
        const auto tune = testing::made_changes_tune(seed, bars_of(seed));
        const auto refs = tune::written_chords(tune);
        const auto analysis = analysis::analyse(tune);
        const auto root = [&](int i) {
            return theory::pitch_class(tune::chord_at(tune, refs[static_cast<std::size_t>(i)]).chord.root);
        };
        INFO("seed " << seed << ": " << testing::made_changes(seed, bars_of(seed)));
        for (int i = 0; i < static_cast<int>(refs.size()); ++i) {
            const auto& fact = analysis.chords[static_cast<std::size_t>(i)];
            INFO("chord " << i << " " << fact.numeral);
            REQUIRE_FALSE(fact.numeral.empty());
            REQUIRE(fact.applied_to < static_cast<int>(refs.size()));
            if (fact.in_modal_stretch) REQUIRE(fact.function == Function::modal);
            if (fact.blues_tonic) REQUIRE(fact.function == Function::tonic);
            if (fact.related_ii) REQUIRE(fact.function == Function::predominant);
            iis += fact.related_ii ? 1 : 0;
            if (fact.applied_to < 0) continue;
            const int motion = (root(fact.applied_to) - root(i) + 12) % 12;
            if (fact.function == Function::dominant) REQUIRE((motion == 5 || motion == 0));
            if (fact.function == Function::substitute_dominant && motion == 5) {
                // By a fifth a substitute leads to the next one of a chain only.
                const auto goal = static_cast<std::size_t>(fact.applied_to);
                REQUIRE(analysis.chords[goal].function == Function::substitute_dominant);
                ++chains;
            } else if (fact.function == Function::substitute_dominant) {
                REQUIRE((motion == 11 || motion == 0));
            }
            if (fact.function == Function::backdoor) {
                const auto goal = static_cast<std::size_t>(fact.applied_to);
                REQUIRE((motion == 2 || motion == 6));
                REQUIRE(is_home_tonic_or_iii(analysis, analysis.chords[goal],
                                             tune::chord_at(tune, refs[goal]).chord));
            }
            dominants += fact.function == Function::dominant ? 1 : 0;
            substitutes += fact.function == Function::substitute_dominant ? 1 : 0;
            backdoors += fact.function == Function::backdoor ? 1 : 0;
        }
    }
    // The generator makes enough of each for the law to mean something.
    CHECK(dominants > 500);
    CHECK(substitutes > 50);
    CHECK(chains > 50);
    CHECK(backdoors > 20);
    CHECK(iis > 200);
}

TEST_CASE("Very long tunes are read through a window, and it is said", "[property][analysis]") {
    for (std::uint64_t seed = 0; seed < 4; ++seed) {
        const auto tune = testing::made_changes_tune(seed, 300 + 40 * static_cast<int>(seed));
        const auto chorus = analysis::hear(tune);
        const auto analysis = analysis::analyse(tune);
        INFO("seed " << seed << ", " << chorus.chords.size() << " chords");
        REQUIRE(chorus.chords.size() > 320);
        CHECK_FALSE(analysis.exact);
        CHECK(analysis.window == 128);
        require_one_target_each(analysis, chorus.chords.size());
        CHECK(first_that_goes_round(analysis) == -1);
        CHECK_FALSE(crosses(targets_of(analysis)));
    }
}
