// compiler/analysis/arcs.cpp: what an arc between two chords weighs. Each case gives weight to one feature
// only, so that the weight is there or not.
#include "analysis/arcs.h"

#include <functional>
#include <string>
#include <vector>

#include "analysis/relations.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;
using analysis::Arcs;
using analysis::TreeWeights;

namespace {

/// The chords of a small tune in C as the tree sees them.
struct Material {
    analysis::Chorus chorus;
    std::vector<analysis::TreeChord> chords;

    explicit Material(const tune::Tune& tune) : chorus(analysis::hear(tune)) {
        for (const auto& heard : chorus.chords) {
            analysis::TreeChord chord;
            chord.heard = &heard;
            chord.length = heard.length;
            chord.on_tonic = heard.root == 0 && heard.sound == analysis::Sound::major;
            chord.role = chord.on_tonic ? analysis::Role::tonic
                         : heard.root == 7 && heard.sound == analysis::Sound::dominant
                             ? analysis::Role::dominant
                             : analysis::Role::other;
            if (!chords.empty() && analysis::same_chord(*chords.back().heard, heard)) {
                chord.run_begins = false;
                chords.back().run_ends = false;
            }
            chords.push_back(chord);
        }
    }
    [[nodiscard]] int weigh(const TreeWeights& weights, int from, int to) const {
        int crossed = 0;
        for (int i = from + 1; i <= to; ++i)
            crossed = Arcs::cross(crossed, chords[static_cast<std::size_t>(i)].heard->level);
        return Arcs(chords, chorus.chords.front(), weights).between(from, to, crossed) / Arcs::scale;
    }
};

struct Case {
    std::string what, changes;
    std::function<void(TreeWeights&)> give;  ///< one feature the weight 1
    int from, to;
    int weight;
};

}  // namespace

// Each feature with a place where it counts and one where it does not.
TEST_CASE("what an arc weighs") {
    const auto run = [](int at_once, int place) {
        return [=](TreeWeights& w) { w.run[std::size_t(at_once)][std::size_t(place)] = 1; };
    };
    const auto leaves = [](int stand, int later) {
        return [=](TreeWeights& w) { w.leaves[std::size_t(stand)][std::size_t(later)] = 1; };
    };
    const auto lasts = [](int length, int later) {
        return [=](TreeWeights& w) { w.lasts[std::size_t(length)][std::size_t(later)] = 1; };
    };
    const auto crosses = [](int strength, int goal) {
        return [=](TreeWeights& w) { w.crosses[std::size_t(strength)][std::size_t(goal)] = 1; };
    };
    const auto phrase = [](int distance, int goal) {
        return [=](TreeWeights& w) { w.phrase[std::size_t(distance)][std::size_t(goal)] = 1; };
    };
    const std::string eight = "C | C | F | G7 | C | Am7 | Dm7 | G7 | ";
    const Case cases[] = {
        {"run, inside a pair of bars", "C | C | C | C", run(0, 0), 0, 1, 1},
        {"run, from pair to pair", "C | C | C | C", run(0, 1), 1, 2, 1},
        {"run, not from pair to pair", "C | C | C | C", run(0, 1), 0, 1, 0},
        {"run, pair by pair", "C | C | C | C", run(1, 0), 1, 3, 1},
        {"run, onto four bars", "C | C | C | C | C | G7", run(0, 2), 3, 4, 1},
        {"another chord between is no run", "C | F | C | C", run(1, 1), 0, 2, 0},
        {"half step down at once", "A7 | Ab7 | F | G7", [](TreeWeights& w) { w.down_next = 1; }, 0, 1, 0},
        {"substitute to its goal at once", "Db7 | C | F | G7", [](TreeWeights& w) { w.down_next = 1; }, 0, 1,
         1},
        {"descending minor chords", "Em7 | Ebm7 | Dm7 | G7", [](TreeWeights& w) { w.down_next = 1; }, 0, 1,
         1},
        {"a line of half steps", "Em7 | Ebm7 | Dm7 | G7", [](TreeWeights& w) { w.down_line = 1; }, 0, 1, 1},
        {"one half step is no line", "Ebm7 | Dm7 | G7 | C", [](TreeWeights& w) { w.down_line = 1; }, 0, 1, 0},
        {"expected tonic at once", "Dm7 | G7 | C", [](TreeWeights& w) { w.to_tonic[0][0] = 1; }, 1, 2, 1},
        {"tonic that is not expected", "Dm7 | F | C", [](TreeWeights& w) { w.to_tonic[0][1] = 1; }, 1, 2, 1},
        {"expected tonic later", "G7 | F | C", [](TreeWeights& w) { w.to_tonic[1][0] = 1; }, 0, 2, 1},
        {"opening tonic leaves", eight + "C | C", leaves(0, 0), 1, 2, 1},
        {"inner tonic leaves", eight + "C | C", leaves(1, 0), 4, 5, 1},
        {"inner tonic leaves later", eight + "C | C", leaves(1, 1), 4, 7, 1},
        {"closing tonic leaves", "F | F | G7 | G7 | Dm7 | G7 | C | C | F | C", leaves(2, 0), 7, 8, 1},
        {"a tonic that fills eight bars closes them", "C | C | C | C | C | C | C | C | F | G7", leaves(2, 0),
         7, 8, 1},
        {"only tonics leave", eight + "C | C", leaves(1, 0), 5, 6, 0},
        {"short tonic leaves", "F C | Dm7 G7", lasts(0, 0), 1, 2, 1},
        {"a bar of tonic is not short", "F | C | Dm7 G7", lasts(0, 0), 1, 2, 0},
        {"a bar of tonic leaves", "F | C C | Dm7 G7", lasts(1, 0), 2, 3, 1},
        {"two bars of tonic leave later", "F | C | C | Dm7 | G7", lasts(2, 1), 1, 4, 1},
        {"a run over the eighth bar is one", "F | F | G7 | G7 | F | Dm7 | G7 | C | C | F", lasts(2, 0), 8, 9,
         1},
        {"long tonic leaves", "C | C | C | C | F | G7", lasts(3, 0), 3, 4, 1},
        {"only tonics last", "F F | G7", lasts(1, 0), 1, 2, 0},
        {"neighbour of the tonic", "C | F | C | Dm7 G7", [](TreeWeights& w) { w.neighbour = 1; }, 1, 2, 1},
        {"a dominant is no neighbour", "C | G7 | C | Dm7 G7", [](TreeWeights& w) { w.neighbour = 1; }, 1, 2,
         0},
        {"no neighbour over four bars", "F | G7 | C | F | C", [](TreeWeights& w) { w.neighbour = 1; }, 3, 4,
         0},
        {"two chords are none", "C | F Dm7 | C | G7", [](TreeWeights& w) { w.neighbour = 1; }, 2, 3, 0},
        {"no section between", eight + "C | C", crosses(0, 0), 0, 4, 1},
        {"eight bars between", eight + "C | C", crosses(1, 0), 4, 8, 1},
        {"eight bars between, to a dominant", eight + "F | G7", crosses(1, 1), 3, 9, 1},
        {"at once nothing is crossed", eight + "C | C", crosses(1, 0), 7, 8, 0},
        {"sixteen bars between", eight + eight + "C | C", crosses(2, 0), 14, 16, 1},
        {"twice sixteen bars between", eight + eight + eight + eight + "C | C", crosses(2, 0), 11, 32, 2},
        {"within four bars", "C | F | Dm7 | G7 | C", phrase(0, 1), 0, 3, 1},
        {"within eight bars", eight + "C | C", phrase(1, 1), 3, 7, 1},
        {"further apart", eight + "C | C", phrase(2, 0), 4, 8, 1},
        {"to the last of a run", "G7 | F | C | C", [](TreeWeights& w) { w.afar[0] = 1; }, 0, 3, 1},
        {"to an earlier one of a run", "G7 | F | C | C", [](TreeWeights& w) { w.afar[1] = 1; }, 0, 2, 1},
    };
    for (const auto& row : cases) {
        INFO(row.what << ": " << row.changes);
        const Material material(testing::small_tune("C major", row.changes));
        TreeWeights weights{};
        weights.relation.resize(static_cast<std::size_t>(analysis::step_count()) + 1);
        row.give(weights);
        CHECK(material.weigh(weights, row.from, row.to) == row.weight);
    }
}
