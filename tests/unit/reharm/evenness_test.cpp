// compiler/reharm/evenness.cpp: rounds of a vamp or a sequence that are treated otherwise than the rest. What
// is even is common practice, no source.
#include "reharm/evenness.h"

#include <string>

#include "reharm/plan_binding.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

/// A letter per round and treatment; a dot may be as it is.
int strays(const std::string& letters, bool sequence = false) {
    std::vector<int> treatments;
    for (const char letter : letters)
        treatments.push_back(letter == '.' ? reharm::any_treatment : letter - 'A');
    return reharm::stray_rounds(treatments, sequence);
}

/// A tune of a chord a bar, and stray rounds when single chords are replaced.
class Heard {
public:
    explicit Heard(tune::Tune tune)
        : tune_(std::move(tune)),
          analysis_(testing::plain_reading(tune_)),
          chart_(rules::make_chart(tune_, analysis_)),
          plan_(*reharm::bind_plan(tune_, rules::built_in_rules(), {}).value),
          situation_{tune_, chart_, rules::built_in_rules(), plan_},
          grid_(chart_) {}
    Heard(const std::string& changes, const std::string& plan = "")
        : Heard(testing::small_tune("C major", changes, {}, plan)) {}

    /// `bars` per written bar, "Dm7 G7" for half a bar each; "" leaves it.
    int with(const std::vector<std::string>& bars) {
        auto sound = grid_.as_written();
        for (std::size_t i = 0; i < bars.size(); ++i) {
            if (bars[i].empty()) continue;
            for (const auto& cell : grid_.placed(placement(static_cast<int>(i), bars[i])))
                sound[static_cast<std::size_t>(cell.cell)] = cell.sound;
        }
        return reharm::Evenness(situation_, grid_).strays(sound);
    }

private:
    rules::Placement placement(int spot, const std::string& text) const {
        std::vector<std::string> symbols;
        for (std::size_t at = 0; at <= text.size(); at = std::min(text.find(' ', at), text.size()) + 1)
            symbols.push_back(text.substr(at, text.find(' ', at) - at));
        rules::Placement placement;
        placement.begin = spot;
        placement.end = spot + 1;
        Time at = 0;
        for (const auto& symbol : symbols) {
            rules::NewChord chord;
            chord.chord = *theory::parse_chord(symbol).chord;
            chord.at = at;
            chord.length = chart_.at(spot).length / Fraction(static_cast<int>(symbols.size()));
            at += chord.length;
            placement.chords.push_back(chord);
        }
        return placement;
    }

    tune::Tune tune_;
    analysis::Analysis analysis_;
    rules::Chart chart_;
    reharm::BoundPlan plan_;
    reharm::Situation situation_;
    reharm::SoundGrid grid_;
};

constexpr const char* vamp = "Dm7 | G7 | Dm7 | G7 | Dm7 | G7 | Dm7 | G7";
constexpr const char* fourths = "D7 | D7 | G7 | G7 | C7 | C7 | F7 | F7";

}  // namespace

TEST_CASE("Rounds are even when all are alike, when they take turns, and whatever the last one does",
          "[reharm]") {
    for (const auto* even : {"AAA", "A.B", "ABA.", "....", "AAAB", "ABAB", "AABB", "ABABA", "ABABC", "AABBC",
                             "AABBCC", "AAABAAAB", "ABCDABCD", "AAAAAAAA", "A.AA", "AB.B", "AAABA.AB"}) {
        INFO(even);
        CHECK(strays(even) == 0);
    }
    const std::pair<const char*, int> uneven[] = {{"ABA", 1},    {"ABB", 1},   {"ABC", 2},     {"ABAA", 1},
                                                  {"AABA", 1},   {"ABBA", 2},  {"ABCA", 2},    {"ABCD", 3},
                                                  {"AAABAA", 1}, {"ABCDE", 4}, {"AABAAAAA", 1}};
    for (const auto& [letters, count] : uneven) {
        INFO(letters);
        CHECK(strays(letters) == count);
    }
}

TEST_CASE("A sequence of three may take turns, a vamp of three may not", "[reharm]") {
    CHECK(strays("ABA", true) == 0);
    CHECK(strays("ABAC", true) == 2);
    CHECK(strays("ABAA", true) == 1);
    CHECK(strays("ABAB", true) == 0);
    CHECK(strays("ABABC", true) == 0);
    CHECK(strays("ABB", true) == 1);
    CHECK(strays("ABC", true) == 2);
}

TEST_CASE("A vamp that is changed in one round only has a stray one", "[reharm]") {
    Heard tune(vamp);
    CHECK(tune.with({}) == 0);
    CHECK(tune.with({"", "", "", "Db7"}) == 1);
    CHECK(tune.with({"", "", "", "", "", "", "", "Db7"}) == 0);
    CHECK(tune.with({"", "Db7", "", "Db7", "", "Db7"}) == 0);
    CHECK(tune.with({"", "Db7", "", "", "", "Db7", "", "Db7"}) == 1);
    CHECK(tune.with({"", "Db7", "", "", "", "Db7"}) == 0);
    CHECK(tune.with({"", "Db7", "", "Db7"}) == 0);
    // Another colour is no other treatment, the written chord and a colour on it are two.
    CHECK(tune.with({"", "Db7", "", "Db9", "", "Db7#11", "", "Db13"}) == 0);
    CHECK(tune.with({"", "G13", "", "G9", "", "", "", "G13"}) == 1);
    CHECK(tune.with({"", "Dm7 G7", "", "G7/D", "", "Abm7 Db7"}) == 3);
}

TEST_CASE("In a sequence each round is heard from its own degree", "[reharm]") {
    Heard tune(fourths);
    CHECK(tune.with({"", "Am7 D7", "", "Dm7 G7", "", "Gm7 C7", "", "Cm7 F7"}) == 0);
    CHECK(tune.with({"", "Am7 D7", "", "", "", "Gm7 C7", "", "Cm7 F7"}) == 1);
    CHECK(tune.with({"", "Am7 D7", "", "Dm7 G7", "", "Gm7 C7"}) == 0);
    // The same chord in every round is another one in each.
    CHECK(tune.with({"", "Am7 D7", "", "Am7 D7", "", "Am7 D7"}) == 3);
    Heard steps("Em7 | A7 | Dm7 | G7 | Cm7 | F7 | Bbmaj7");
    CHECK(steps.with({"", "Eb7", "", "Db7", "", "B7"}) == 0);
    CHECK(steps.with({"", "Eb7", "", "", "", "B7"}) == 0);
    CHECK(steps.with({"", "", "", "Db7", "", "B7"}) == 1);
}

TEST_CASE("Two units make no rounds, and a section ends a run", "[reharm]") {
    CHECK(Heard("Dm7 | G7 | Dm7 | G7 | Em7 | A7").with({"", "Db7"}) == 0);
    auto tune = testing::read_whole(
        "tune \"T\"\nkey C major\nmeter 4/4\ntempo 120 swing\nform A B\n"
        "section A\nchanges | Dm7 | G7 | Dm7 | G7 |\nsection B\nchanges | Dm7 | G7 | Dm7 | G7 |\n");
    CHECK(Heard(std::move(tune)).with({"", "Db7"}) == 0);
}

TEST_CASE("Rounds with what is locked or held may be as they are", "[reharm]") {
    CHECK(Heard("Dm7 | G7 | Dm7 | G7! | Dm7 | G7 | Dm7 | G7").with({"", "Db7", "", "", "", "Db7"}) == 0);
    const std::vector<std::string> one_left{"", "Db7", "", "", "", "Db7", "", "Db7"};
    CHECK(Heard(vamp, "plan \"p\" for band\n  hold A:4\n").with(one_left) == 0);
    CHECK(Heard(vamp, "plan \"p\" for band\n  hold A:6\n").with(one_left) == 1);
}

TEST_CASE("Stray rounds are the same in every key", "[reharm]") {
    const auto in_c = testing::small_tune("C major", fourths);
    for (const int fifths : {-5, 2, 6}) {
        const auto there = tune::transpose_to(in_c, theory::NoteName{fifths});
        const auto moved = [&](const std::string& root, const std::string& kind) {
            const auto name = *theory::parse_chord(root).chord;
            return theory::to_string(theory::NoteName{name.root.fifths + fifths}) + kind;
        };
        CHECK(Heard(there).with({"", moved("A", "m7") + " " + moved("D", "7"), "",
                                 moved("D", "m7") + " " + moved("G", "7")}) == 0);
        CHECK(Heard(there).with({"", moved("A", "m7") + " " + moved("D", "7"), "", "", "",
                                 moved("G", "m7") + " " + moved("C", "7"), "",
                                 moved("C", "m7") + " " + moved("F", "7")}) == 1);
    }
}
