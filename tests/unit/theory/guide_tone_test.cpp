// guide tones of the chord table; compiler/theory/guide_motion.h
#include <algorithm>

#include "theory/chord_table.h"
#include "theory/guide_motion.h"
#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

// The name under which `degree` of `of` sounds.
std::string name_of_tone(const Chord& of, Degree degree) {
    return to_string(tone(of, degree));
}

// Pairs of both lines through a row of chords, starting on the third's and the seventh's role of the
// first chord and following the motion: "F F E".
std::pair<std::string, std::string> lines(const std::vector<std::string>& symbols) {
    std::vector<std::string> a, b;
    Chord at = chord(symbols.front());
    Degree of_a = guide_tones(at)->third, of_b = guide_tones(at)->seventh;
    a.push_back(name_of_tone(at, of_a));
    b.push_back(name_of_tone(at, of_b));
    for (std::size_t i = 1; i < symbols.size(); ++i) {
        const Chord next = chord(symbols[i]);
        const auto motion = guide_motion(at, next);
        REQUIRE(motion.has_value());
        of_a = of_a == motion->third.from ? motion->third.to : motion->seventh.to;
        of_b = of_b == motion->seventh.from ? motion->seventh.to : motion->third.to;
        at = next;
        a.push_back(name_of_tone(at, of_a));
        b.push_back(name_of_tone(at, of_b));
    }
    return {joined(a), joined(b)};
}

}  // namespace

TEST_CASE("guide tones of each kind of chord") {
    struct Row {
        const char *symbol, *third, *seventh;
    };
    const Row rows[] = {
        {"C7", "3", "b7"},         {"Cmaj7", "3", "7"},   {"Cm7", "b3", "b7"},     {"C6", "3", "6"},
        {"Cm6", "b3", "6"},        {"C6/9", "3", "6"},    {"Cm(maj7)", "b3", "7"}, {"Cm7b5", "b3", "b7"},
        {"Cdim7", "b3", "bb7"},    {"C7sus4", "4", "b7"}, {"C9sus4", "4", "b7"},   {"C7alt", "3", "b7"},
        {"C13#11", "3", "b7"},     {"C7#5", "3", "b7"},   {"C", "3", "1"},         {"Cm", "b3", "1"},
        {"Csus4", "4", "1"},       {"C5", "5", "1"},      {"Caug", "3", "#5"},     {"Cdim", "b3", "b5"},
        {"C7(b9,#11)", "3", "b7"}, {"C/E", "3", "1"},     {"Cmaj7#5", "3", "7"},   {"Cm7(b13)", "b3", "b7"}};
    for (const auto& row : rows) {
        INFO(row.symbol);
        const auto guides = guide_tones(chord(row.symbol));
        REQUIRE(guides.has_value());
        CHECK(to_string(guides->third) == row.third);
        CHECK(to_string(guides->seventh) == row.seventh);
    }
    CHECK_FALSE(guide_tones(chord("N.C.")).has_value());
    CHECK(guide_tone_choices(chord("C")).size() == 2);
    CHECK(guide_tone_choices(chord("C7")).size() == 1);
}

TEST_CASE("guide-tone lines of the major ii-V-I") {
    struct Row {
        const char *chords, *line_a, *line_b;
    };
    // C: Wikipedia, "ii-V-I progression"; the pattern: Open Music Theory v2, "ii-V-I", and D. Tymoczko,
    // A Geometry of Music (2011), figure 10.1.3. The other keys are computed from it.
    const Row rows[] = {{"Dm7 G7 Cmaj7", "F F E", "C B B"},        {"Gm7 C7 Fmaj7", "Bb Bb A", "F E E"},
                        {"Cm7 F7 Bbmaj7", "Eb Eb D", "Bb A A"},    {"Fm7 Bb7 Ebmaj7", "Ab Ab G", "Eb D D"},
                        {"Bbm7 Eb7 Abmaj7", "Db Db C", "Ab G G"},  {"Ebm7 Ab7 Dbmaj7", "Gb Gb F", "Db C C"},
                        {"Abm7 Db7 Gbmaj7", "Cb Cb Bb", "Gb F F"}, {"C#m7 F#7 Bmaj7", "E E D#", "B A# A#"},
                        {"F#m7 B7 Emaj7", "A A G#", "E D# D#"},    {"Bm7 E7 Amaj7", "D D C#", "A G# G#"},
                        {"Em7 A7 Dmaj7", "G G F#", "D C# C#"},     {"Am7 D7 Gmaj7", "C C B", "G F# F#"}};
    for (const auto& row : rows) {
        INFO(row.chords);
        const auto [a, b] = lines(words(row.chords));
        CHECK(a == row.line_a);
        CHECK(b == row.line_b);
    }
}

TEST_CASE("guide-tone lines of the minor ii-V-i") {
    struct Row {
        const char *chords, *line_a, *line_b;
    };
    // Open Music Theory v2, "ii-V-I" (chords); notes computed.
    const Row rows[] = {{"Dm7b5 G7 Cm(maj7)", "F F Eb", "C B B"}, {"Dm7b5 G7 Cm7", "F F Eb", "C B Bb"},
                        {"Dm7b5 G7b9 Cm6", "F F Eb", "C B A"},    {"Bm7b5 E7 Am7", "D D C", "A G# G"},
                        {"Em7b5 A7 Dm6", "G G F", "D C# B"},      {"Am7b5 D7 Gm(maj7)", "C C Bb", "G F# F#"},
                        {"Gm7b5 C7 Fm7", "Bb Bb Ab", "F E Eb"},   {"G#m7b5 C#7 F#m6", "B B A", "F# E# D#"}};
    for (const auto& row : rows) {
        INFO(row.chords);
        const auto [a, b] = lines(words(row.chords));
        CHECK(a == row.line_a);
        CHECK(b == row.line_b);
    }
}

TEST_CASE("chains of dominants and substitutes") {
    struct Row {
        const char *chords, *line_a, *line_b, *source;
    };
    const Row rows[] = {
        {"E7 A7 D7 G7 C7 F7", "G# G F# F E Eb", "D C# C B Bb A", "both voices fall by half steps; computed"},
        {"E7 Eb7 D7 Db7 Cmaj7", "G# G F# F E", "D Db C Cb B", "the same pitches; computed"},
        {"Dm7 Db7 Cmaj7", "F F E", "C Cb B",
         "Wikibooks, Music Theory/Dominant substitute; Wikipedia, \"Tritone substitution\""},
        {"Cmaj7 C#dim7 Dm7", "E E F", "B Bb C", "computed"}};
    for (const auto& row : rows) {
        INFO(row.chords << ", " << row.source);
        const auto [a, b] = lines(words(row.chords));
        CHECK(a == row.line_a);
        CHECK(b == row.line_b);
    }
}

TEST_CASE("declared landings: the backdoor") {
    // Wikipedia, "Backdoor progression": in C the 7 of Bb7 goes to 5 and its 3 to 3.
    const Thread threads[] = {{3, {3}}, {7, {5}}};
    const auto motion = guide_motion(chord("Bb7"), chord("Cmaj7"), threads);
    REQUIRE(motion.has_value());
    CHECK(motion->third == Landing{{3, 0}, {3, 0}, 2});
    CHECK(motion->seventh == Landing{{7, -1}, {5, 0}, -1});
    CHECK(move_of(motion->third.semitones) == Move::step);
}

TEST_CASE("declared landings: first of several, roles, and what is left") {
    const Thread tritone[] = {{3, {3}}, {7, {7, 6, 5}}};
    struct Row {
        const char* to;
        Landing third, seventh;
    };
    const Row rows[] = {{"Cmaj7", {{3, 0}, {3, 0}, -1}, {{7, -1}, {7, 0}, 0}},
                        {"C6", {{3, 0}, {3, 0}, -1}, {{7, -1}, {6, 0}, -2}},
                        {"C", {{3, 0}, {3, 0}, -1}, {{7, -1}, {1, 0}, 1}},
                        {"Cm7", {{3, 0}, {3, -1}, -2}, {{7, -1}, {7, -1}, -1}}};
    for (const auto& row : rows) {
        INFO(row.to);
        const auto motion = guide_motion(chord("Db7"), chord(row.to), tritone);
        REQUIRE(motion.has_value());
        CHECK(motion->third == row.third);
        CHECK(motion->seventh == row.seventh);
    }
    const Thread only_third[] = {{3, {7}}};
    const auto motion = guide_motion(chord("Dm7"), chord("G7"), only_third);
    REQUIRE(motion.has_value());
    CHECK(motion->third == Landing{{3, -1}, {7, -1}, 0});
    CHECK(motion->seventh == Landing{{7, -1}, {3, 0}, -1});
    const Thread to_ninth[] = {{7, {9}}};
    CHECK_FALSE(guide_motion(chord("Bb7"), chord("Cmaj7"), to_ninth).has_value());
    CHECK(guide_motion(chord("Bb7"), chord("C6/9"), to_ninth)->seventh == Landing{{7, -1}, {9, 0}, 6});
}

TEST_CASE("the pairing of least sum, then of least maximum") {
    struct Row {
        const char* from;
        const char* to;
        int sum, largest;
    };
    const Row rows[] = {{"G7", "Cmaj7", 1, 1},  {"G7", "C", 2, 1},     {"G7", "Cm7", 3, 2},
                        {"Db7", "Cmaj7", 1, 1}, {"Db7", "C6", 3, 2},   {"C6", "Fm6", 3, 2},
                        {"C", "F", 3, 2},       {"C7", "C7", 0, 0},    {"F", "Fm", 1, 1},
                        {"G7sus4", "G7", 1, 1}, {"Fmaj7", "Fm7", 2, 1}};
    for (const auto& row : rows) {
        INFO(row.from << " to " << row.to);
        const auto motion = guide_motion(chord(row.from), chord(row.to));
        REQUIRE(motion.has_value());
        CHECK(motion->sum() == row.sum);
        CHECK(motion->largest() == row.largest);
    }
    CHECK_FALSE(guide_motion(chord("N.C."), chord("C7")).has_value());
    CHECK_FALSE(guide_motion(chord("C7"), chord("N.C.")).has_value());
}

TEST_CASE("words for the size of a move") {
    const char* words_of[] = {"held", "step", "step", "skip", "skip", "leap", "leap"};
    for (int semitones = 0; semitones <= 6; ++semitones) {
        CHECK(to_string(move_of(semitones)) == words_of[semitones]);
        CHECK(to_string(move_of(-semitones)) == words_of[semitones]);
    }
    CHECK(nearest_way(11, 0) == 1);
    CHECK(nearest_way(0, 11) == -1);
    CHECK(nearest_way(0, 6) == 6);
    CHECK(nearest_way(6, 0) == 6);
}

TEST_CASE("every quality has guide tones that it contains") {
    for (std::uint16_t row = 1; row < quality_count(); ++row) {
        const auto quality = quality_row({row});
        INFO("chord-table.txt:" << quality.line << ' ' << quality.name);
        REQUIRE(quality.guides.size() >= 2);
        for (const Degree guide : quality.guides)
            CHECK(std::find(quality.degrees.begin(), quality.degrees.end(), guide) != quality.degrees.end());
    }
}
