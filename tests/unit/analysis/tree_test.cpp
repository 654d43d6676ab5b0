// compiler/analysis/tree.cpp, relations.cpp, heard.cpp: what leads to what, and from where it stands.
#include "analysis/tree.h"

#include <functional>
#include <numeric>

#include "analysis/relations.h"
#include "support/catch.h"
#include "unit/analysis/told.h"

using namespace relead;
using analysis::Sound;
using testing::analysed;

namespace {

theory::Chord chord(const std::string& symbol) {
    const auto reading = theory::parse_chord(symbol);
    INFO(symbol);
    REQUIRE(reading.chord.has_value());
    return *reading.chord;
}

analysis::Heard heard(const theory::Chord& chord) {
    analysis::Heard heard;
    heard.chord = &chord;
    heard.root = theory::pitch_class(chord.root);
    heard.sound = analysis::sound_of(chord);
    return heard;
}

}  // namespace

TEST_CASE("sounds that behave alike") {
    const std::vector<std::pair<std::string, Sound>> rows = {
        {"C", Sound::major},
        {"C6", Sound::major},
        {"Cmaj7#11", Sound::major},
        {"C5", Sound::major},
        {"Cmaj7#5", Sound::major},
        {"Cm7", Sound::minor_seventh},
        {"Cm11", Sound::minor_seventh},
        {"Cm7b5", Sound::half_diminished},
        {"Cm", Sound::minor},
        {"Cm6", Sound::minor},
        {"Cm(maj7)", Sound::minor},
        {"C7", Sound::dominant},
        {"C13b9", Sound::dominant},
        {"C7alt", Sound::dominant},
        {"Caug", Sound::dominant},
        {"C7sus4", Sound::suspended},
        {"Csus4", Sound::suspended},
        {"Cdim7", Sound::diminished},
        {"Cdim", Sound::diminished},
    };
    for (const auto& [symbol, sound] : rows) {
        INFO(symbol);
        CHECK(analysis::sound_of(chord(symbol)) == sound);
    }
}

// Falling fifths, substitutes and two-fives: Open Music Theory v2, part Jazz; the rest is common practice.
TEST_CASE("how one chord leads to another") {
    struct Row {
        std::string from, to, name;
        bool resolves;
    };
    const Row rows[] = {
        {"G7", "Cmaj7", "dominant to its goal", true},
        {"G7", "Cm6", "dominant to its goal", true},
        {"A7", "D7", "dominant to dominant", true},
        {"Db7", "Cmaj7", "substitute to its goal", true},
        {"Ab7", "G7", "substitute to dominant", true},
        {"Dm7", "G7", "ii to V", true},
        {"Dm7b5", "G7alt", "ii to V", true},
        {"Dm7", "G7sus4", "ii to V", true},
        {"Dm7", "Db7", "half step down", true},
        {"G7sus4", "G7", "sus to its dominant", true},
        {"Bb7", "C6", "dominant up a step to major", false},
        {"F7", "G7", "dominant up a step to dominant", false},
        {"G7", "Am7", "dominant up a step to minor", false},
        {"G7", "F7", "dominant elsewhere", false},
        {"G7", "D7", "dominant down a fourth", false},
        {"C#dim7", "Dm7", "diminished up a half step", true},
        {"Cdim7", "Cmaj7", "diminished on its root", true},
        {"Cdim7", "Bdim7", "half step down", false},
        {"Fmaj7", "G7", "IV to V", false},
        {"Fm6", "C", "iv to I", false},
        {"Em7", "Am7", "minor down a fifth", false},
        {"Cmaj7", "Fmaj7", "down a fifth", false},
        {"Cmaj7", "C7", "new colour", false},
        {"Dm7", "D7", "minor turns dominant", false},
        {"Cmaj7", "Cm7", "major turns minor", false},
        {"Cmaj7", "Cmaj9", "same chord", false},
    };
    for (const auto& row : rows) {
        INFO(row.from << " " << row.to);
        const auto from = chord(row.from), to = chord(row.to);
        const auto step = analysis::step_between(heard(from), heard(to));
        CHECK(analysis::step_name(step) == row.name);
        CHECK(step.resolves == row.resolves);
        CHECK(step.same == (row.name == "same chord"));
    }
}

TEST_CASE("places in the form: bars, pairs of bars, phrases, sections") {
    const auto tune = testing::read_whole(
        "tune \"Small\"\nkey C major\nmeter 4/4\nform A B\n\nsection A\nchanges | C F | C | C | C | C | C | "
        "C | C "
        "|\n\nsection B\nchanges | G7 | C | N.C. | C |\n");
    const auto chorus = analysis::hear(tune);
    CHECK(chorus.bars == 12);
    std::vector<int> bars;
    for (const auto& chord : chorus.chords) bars.push_back(chord.bar);
    CHECK(bars == std::vector<int>{0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 11});
    CHECK_FALSE(chorus.chords[1].on_one);
    CHECK(chorus.chords[1].level == 0);
    CHECK(chorus.chords[2].level == 1);
    CHECK(chorus.chords[3].level == 2);
    CHECK(chorus.chords[5].level == 3);
    CHECK(chorus.chords[9].level >= 4);  // a new section
    CHECK(chorus.chords[0].length == 0.5);
    CHECK(chorus.chords[10].length == 2);  // through the silent bar
    CHECK(chorus.chords[11].length == 1);
    // Groups of four and of eight bars; a section begins new ones.
    std::vector<int> phrases, periods;
    for (const auto& chord : chorus.chords) phrases.push_back(chord.phrase), periods.push_back(chord.period);
    CHECK(phrases == std::vector<int>{0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2});
    CHECK(periods == std::vector<int>{0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1});
    CHECK(chorus.chords[1].in_period == 0.5);
    CHECK(chorus.chords[8].in_period == 7);
    CHECK(chorus.chords[11].in_period == 3);
}

TEST_CASE("a tree is the best of all trees") {
    // Every way to say what leads to what over up to seven chords, without crossing, against the decoder: the
    // weights are made up, so that no musical habit can hide a slip.
    const std::vector<std::string> symbols = {"C", "A7", "Dm7", "G7", "C", "F#dim7", "G7"};
    std::vector<theory::Chord> chords;
    for (const auto& symbol : symbols) chords.push_back(chord(symbol));
    std::vector<analysis::Heard> all;
    for (std::size_t i = 0; i < chords.size(); ++i) {
        all.push_back(heard(chords[i]));
        all.back().start = static_cast<double>(i);
    }
    for (int seed = 1; seed <= 50; ++seed) {
        // Only relations and roles carry weight here: a sum over arcs that can be taken by itself.
        analysis::TreeWeights weights{};
        weights.relation.resize(static_cast<std::size_t>(analysis::step_count()) + 1);
        int state = seed;
        const auto next = [&] { return state = (state * 1103 + 12345) % 65537; };
        for (auto& weight : weights.relation) weight = next() % 200 - 100;
        for (auto& row : weights.roles)
            for (auto& weight : row) weight = next() % 100 - 50;
        std::vector<analysis::TreeChord> nodes;
        for (std::size_t i = 0; i < all.size(); ++i) {
            analysis::TreeChord node;
            node.heard = &all[i];
            node.role = i % 3 == 0   ? analysis::Role::tonic
                        : i % 3 == 1 ? analysis::Role::dominant
                                     : analysis::Role::other;
            nodes.push_back(node);
        }
        const auto weigh = [&](const std::vector<int>& heads) {
            long sum = 0;
            for (std::size_t i = 0; i + 1 < heads.size(); ++i) {
                const auto& to = nodes[static_cast<std::size_t>(heads[i])];
                const auto step = analysis::step_between(*nodes[i].heard, *to.heard);
                sum += step.row < 0 ? weights.relation.back()
                                    : weights.relation[static_cast<std::size_t>(step.row)];
                sum +=
                    weights.roles[static_cast<std::size_t>(nodes[i].role)][static_cast<std::size_t>(to.role)];
            }
            return sum;
        };
        const int count = static_cast<int>(nodes.size());
        long best = -1000000;
        std::vector<int> heads(nodes.size(), -1);
        const std::function<void(int)> place = [&](int i) {
            if (i < 0) {
                best = std::max(best, weigh(heads));
                return;
            }
            for (int k = i + 1; k < count; ++k) {  // from right to left: k must be reachable without crossing
                bool crosses = false;
                for (int m = i + 1; m < k; ++m) crosses = crosses || heads[static_cast<std::size_t>(m)] > k;
                if (crosses) continue;
                heads[static_cast<std::size_t>(i)] = k;
                place(i - 1);
            }
        };
        place(count - 2);
        const auto tree = analysis::decode_tree(nodes, false, weights);
        INFO("seed " << seed);
        CHECK(tree.exact);
        CHECK(tree.heads.back() == -1);
        CHECK(weigh(tree.heads) == best);
    }
}

TEST_CASE("long tunes are read through a window, short ones whole") {
    std::vector<theory::Chord> chords = {chord("Dm7"), chord("G7"), chord("C"), chord("C")};
    std::vector<analysis::Heard> all;
    for (int i = 0; i < 60; ++i) {
        all.push_back(heard(chords[static_cast<std::size_t>(i % 4)]));
        all.back().start = i;
        all.back().bar = i;
        all.back().level = i % 4 == 0 ? 3 : i % 2 == 0 ? 2 : 1;
    }
    std::vector<analysis::TreeChord> nodes;
    for (const auto& one : all) {
        analysis::TreeChord node;
        node.heard = &one;
        node.role = one.root == 0   ? analysis::Role::tonic
                    : one.root == 7 ? analysis::Role::dominant
                                    : analysis::Role::other;
        nodes.push_back(node);
    }
    const auto whole = analysis::decode_tree(nodes, false);
    CHECK(whole.exact);
    CHECK(whole.window == 0);
    const auto windowed = analysis::decode_tree(nodes, false, analysis::tree_weights(), 40, 16);
    CHECK_FALSE(windowed.exact);
    CHECK(windowed.window == 16);
    REQUIRE(windowed.heads.size() == whole.heads.size());
    int same = 0;
    for (std::size_t i = 0; i < whole.heads.size(); ++i) same += whole.heads[i] == windowed.heads[i] ? 1 : 0;
    CHECK(same >= 45);  // far prolongations differ, what a phrase does not
}

TEST_CASE("what chords of a phrase depend on") {
    // Convention: M. Rohrmeier et al., "The Jazz Harmony Treebank", ISMIR 2020: heads on the right.
    CHECK(testing::targets(analysed("C major", "Cmaj7 | Dm7 | G7 | Cmaj7")) == "3 2 3 end");
    CHECK(testing::targets(analysed("C major", "Dm7 | G7 | Cmaj7 | Cmaj7")) == "1 3 3 end");
    // A chord that is silent, or that no chorus plays, leads to the one written after it.
    CHECK(testing::targets(analysed("C major", "C | N.C. | G7 | C")) == "3 2 3 end");
}

TEST_CASE("written chords that are played twice are told by their first playing") {
    const auto analysis = analysis::analyse(testing::read_whole(
        "tune \"Small\"\nkey C major\nmeter 4/4\nform A A B\n\nsection A\nchanges | C | Dm7 G7 |\n\nsection "
        "B\nchanges | Dm7 G7 | C |\n"));
    REQUIRE(analysis.chords.size() == 6);
    CHECK(analysis.chords[0].playings == std::vector<int>{0, 3});
    CHECK(analysis.chords[2].playings == std::vector<int>{2, 5});
    CHECK(analysis.chords[5].playings == std::vector<int>{8});
    for (const auto& fact : analysis.chords) {
        INFO(fact.numeral);
        if (fact.target) CHECK(*fact.target <= 6);
    }
}

TEST_CASE("chords of the last ending are told as the last chorus plays them; the others stay as they are") {
    const std::string head =
        "tune \"Small\"\nkey C major\nmeter 4/4\nform A\nrunning Head | Solos open | Head last\n\nsection A\n"
        "changes | C6 | A7 | [1 Dm7 | G7 ]";
    const auto analysis = analysis::analyse(
        testing::read_whole(head + " [last C6 A7 | Dm7 G7 | Eb7 Ab7 | Db7 | C6 | N.C. C6/9 ] |\n"));
    REQUIRE(analysis.chords.size() == 14);
    CHECK(analysis.chords[4].playings.empty());
    const auto told = [&](std::size_t i) {
        const auto& fact = analysis.chords[i];
        return fact.numeral + ' ' + std::string(to_string(fact.function)) + ' ' +
               std::to_string(fact.target.value_or(-1)) + ' ' + std::string(to_string(fact.relation));
    };
    CHECK(told(5) == "V7/ii dominant 6 prepares");
    CHECK(told(6) == "ii7 predominant 7 prepares");
    CHECK(analysis.chords[6].related_ii);
    CHECK(told(9) == "subV7/V substitute dominant 10 prepares");
    CHECK(told(10) == "subV7 substitute dominant 13 prepares");  // the last of two tonics is the goal
    CHECK(told(11) == "I6 tonic 13 prolongs");                   // over the silence
    CHECK(told(13) == "I6/9 tonic -1 prolongs");                 // nothing comes after it
    CHECK(analysis.chords[10].applied_to == 11);
    CHECK(testing::chords_with(analysis, &analysis::ChordFact::turnaround).find('5') == std::string::npos);

    const auto plain = analysis::analyse(testing::read_whole(head + " |\n"));
    for (std::size_t i = 0; i < 4; ++i) {
        INFO(i);
        const auto &with = analysis.chords[i], &without = plain.chords[i];
        CHECK(with.numeral == without.numeral);
        CHECK(with.function == without.function);
        CHECK(with.relation == without.relation);
        const bool to_the_top =
            without.target == 4;  // the number of chords, which is another with the ending
        CHECK(with.target == (to_the_top ? 14 : without.target));
    }
}

TEST_CASE("chords that no chorus plays prepare and prolong each other") {
    const auto analysis = analysis::analyse(testing::read_whole(
        "tune \"Small\"\nkey C major\nmeter 4/4\nform A\nrunning Intro | Head\n\nsection A\n"
        "changes | C6 | A7 | Dm7 | G7 |\n\nsection Intro\nchanges | C6 A7 | Dm7 G7 | C6 | N.C. C6/9 |\n"));
    REQUIRE(analysis.chords.size() == 11);
    CHECK(analysis.chords[4].playings.empty());
    const auto told = [&](std::size_t i) {
        const auto& fact = analysis.chords[i];
        return std::to_string(fact.target.value_or(-1)) +
               (fact.relation == analysis::Relation::prepares ? " prepares" : " prolongs");
    };
    CHECK(told(4) == "8 prolongs");  // C6: the next tonic takes it up
    CHECK(told(5) == "6 prepares");  // A7 > Dm7
    CHECK(told(6) == "7 prepares");
    CHECK(told(7) == "8 prepares");
    CHECK(told(8) == "10 prolongs");  // over the silence
}
