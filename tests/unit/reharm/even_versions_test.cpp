// compiler/reharm/round_moves.cpp and the aim for rounds: versions of made tunes that the choice makes by
// itself.
#include <algorithm>
#include <string>
#include <tuple>
#include <vector>

#include "analysis/analysis.h"
#include "reharm/evenness.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "reharm/reharmonise.h"
#include "reharm/round_moves.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

std::vector<reharm::Version> versions_of(const tune::Tune& tune, int outside) {
    reharm::Wish wish;
    wish.versions = 3;
    wish.outside = outside;
    auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
    REQUIRE(outcome.value.has_value());
    return outcome.value->versions;
}

/// A chord as it is heard from the degree of its round.
using Sounding = std::tuple<Time, int, int, theory::ChordClass>;

/// Stray rounds of a section of four rounds of two bars, each a fourth (`up` semitones) above the one before.
int strays_of(const tune::Section& section, int up) {
    constexpr int rounds = 4, bars = 2, octave = 12;
    std::vector<std::vector<Sounding>> all;
    std::vector<int> treatments;
    for (int round = 0; round < rounds; ++round) {
        std::vector<Sounding> here;
        const auto seen = [&](theory::NoteName name) {
            return (theory::pitch_class(name) + (octave - up) * round) % octave;
        };
        for (int bar = 0; bar < bars; ++bar) {
            for (const auto& event : section.bars[static_cast<std::size_t>(round * bars + bar)].changes)
                here.emplace_back(Time(bar) + event.at, seen(event.chord.root),
                                  seen(theory::bass_of(event.chord)), theory::chord_class(event.chord));
        }
        const auto known = std::find(all.begin(), all.end(), here);
        treatments.push_back(static_cast<int>(known - all.begin()));
        if (known == all.end()) all.push_back(here);
    }
    return reharm::stray_rounds(treatments, up != 0);
}

tune::Tune tune_of(const std::string& bridge) {
    return testing::read_whole(
        "tune \"Four Gates\"\nkey Bb major\nmeter 4/4\ntempo 160 swing\nform A A B A\n"
        "section A\nchanges | Bbmaj7 | G7 | Cm7 | F7 | Dm7 | G7 | Cm7 F7 | Bb6 |\n"
        "section B\nchanges | " +
        bridge + " |\n");
}

}  // namespace

TEST_CASE("A bridge that is one sequence is treated evenly, in every key", "[reharm]") {
    const auto tune = tune_of("D7 | D7 | G7 | G7 | C7 | C7 | F7 | F7");
    for (const int fifths : {-2, 3, -6}) {
        const auto there = tune::transpose_to(tune, theory::NoteName{fifths});
        for (const int outside : {2, 3}) {
            std::ptrdiff_t changed = 0;
            for (const auto& version : versions_of(there, outside)) {
                CAPTURE(fifths, outside, version.idea);
                CHECK(strays_of(version.tune.sections[1], 5) == 0);
                changed += std::count_if(version.changes.begin(), version.changes.end(),
                                         [](const auto& one) { return one.first.section == 1; });
            }
            CHECK(changed > 0);
        }
    }
}

TEST_CASE("A vamp is not changed in one round only", "[reharm]") {
    const auto tune = tune_of("Cm7 | F7 | Cm7 | F7 | Cm7 | F7 | Cm7 | F7");
    std::ptrdiff_t changed = 0;
    for (const int outside : {2, 3}) {
        for (const auto& version : versions_of(tune, outside)) {
            CAPTURE(outside, version.idea);
            CHECK(strays_of(version.tune.sections[1], 0) == 0);
            changed += std::count_if(version.changes.begin(), version.changes.end(),
                                     [](const auto& one) { return one.first.section == 1; });
        }
    }
    CHECK(changed > 0);
}

namespace {

/// What the free choice knows of a tune with a plan.
struct Known {
    explicit Known(tune::Tune whole)
        : tune(std::move(whole)),
          analysis(analysis::analyse(tune)),
          chart(rules::make_chart(tune, analysis)),
          plan(*reharm::bind_plan(tune, rules::built_in_rules(), {}).value),
          situation{tune, chart, rules::built_in_rules(), plan},
          pool(reharm::build_pool(situation, {})),
          lattice(situation, pool.placements),
          graph(unroll(lattice.lattice(), std::size_t{1} << 20U)),
          effects(situation, pool.placements, lattice, graph),
          evenness(situation, effects) {}

    tune::Tune tune;
    analysis::Analysis analysis;
    rules::Chart chart;
    reharm::BoundPlan plan;
    reharm::Situation situation;
    reharm::Pool pool;
    reharm::TuneLattice lattice;
    LatticeGraph graph;
    reharm::ChoiceEffects effects;
    reharm::Evenness evenness;
};

constexpr const char* bridge = "Bbmaj7 | D7 | D7 | G7 | G7 | C7 | C7 | F7 | F7 | Bb6";

}  // namespace

TEST_CASE("What the plan takes may stand in one round only", "[reharm]") {
    const Known known(testing::small_tune("Bb major", bridge, {},
                                          "plan \"p\" for band\n  take tritone at A:5\n  hold A:8\n"));
    REQUIRE(known.evenness.runs().size() == 1);
    REQUIRE(known.evenness.runs().front().size() == 4);
    for (int round = 0; round < 4; ++round) {
        INFO("round " << round + 1);
        CHECK(known.evenness.is_free(0, round) == (round == 0 || round == 2));
    }
}

TEST_CASE("A change is put into all rounds from the degree of each", "[reharm]") {
    const Known known(testing::small_tune("Bb major", bridge, {}, "plan \"p\" for band\n  outside 2\n"));
    const reharm::RoundMoves moves(known.effects, known.evenness);
    const auto& effects = known.effects.effects();
    const auto name_of = [&](int label) {
        const auto& placement = effects[static_cast<std::size_t>(label)].judged->placement;
        std::string text = rules::place_name(known.chart, placement.begin) + ":";
        for (const auto& chord : placement.chords)
            text += " " + theory::to_string(chord.chord, theory::SymbolStyle::plain);
        return text;
    };
    const auto text_of = [&](const reharm::Exchange::Joint& joint) {
        std::string text;
        for (const int label : joint.put) text += (text.empty() ? "" : ", ") + name_of(label);
        return text;
    };
    int ii_v = -1;
    for (std::size_t label = 0; label < effects.size(); ++label) {
        if (effects[label].judged != nullptr && name_of(static_cast<int>(label)) == "A:4: G7 Dm7 G7")
            ii_v = static_cast<int>(label);
    }
    REQUIRE(ii_v >= 0);
    std::vector<std::string> put;
    for (const auto& joint : moves.of({}, {ii_v})) {
        CHECK(joint.clear.empty());
        put.push_back(text_of(joint));
    }
    const std::string first = "A:2: D7 Am7 D7", second = "A:4: G7 Dm7 G7", third = "A:6: C7 Gm7 C7",
                      last = "A:8: F7 Cm7 F7";
    REQUIRE(put.size() == 4);
    CHECK(put[0] == first + ", " + second + ", " + third + ", " + last);
    CHECK(put[1] == first + ", " + second + ", " + third);
    CHECK(put[2] == first + ", " + third);
    CHECK(put[3] == second + ", " + last);
    // What one round has is taken out of it, or put into the others.
    const auto from_one = moves.of({static_cast<std::size_t>(ii_v)}, {});
    REQUIRE(from_one.size() == 4);
    CHECK(text_of(from_one[0]).empty());
    CHECK(from_one[0].clear.size() == 4);
    CHECK(from_one[1].clear.size() == 3);
    CHECK(text_of(from_one[2]) == put[0]);
    CHECK(text_of(from_one[3]) == put[1]);
}
