// compiler/reharm/melody_fit.cpp: held melody notes over new chords.
#include "reharm/melody_fit.h"

#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;
using reharm::NoteFit;

namespace {

theory::Chord chord(const std::string& word) {
    return *theory::parse_chord(word).chord;
}

/// One bar with this melody, `before` as its written chord, `now` as the new one.
reharm::MelodyVerdict judged(const std::string& before, const std::string& now, const std::string& melody,
                             const std::string& key = "C major") {
    const auto tune = testing::small_tune(key, before, {"melody | " + melody + " |"});
    const std::vector<reharm::TimedChord> old{{chord(before), 0, Time(1)}};
    const std::vector<reharm::TimedChord> fresh{{chord(now), 0, Time(1)}};
    return reharm::judge_melody(tune, rules::Melodies(tune), 0, tune.key, old, fresh);
}

}  // namespace

// Lydian dominant over the substitute: Tritone substitution, Wikipedia; verdicts of altered notes and of the
// other rows: avoid-note rule (Avoid note, Wikipedia) and common practice.
TEST_CASE("held notes over substitutes of G7 in C", "[melody]") {
    struct Row {
        std::string now, note;
        NoteFit fit;
        std::string degree;
    };
    const Row rows[] = {
        {"Db7", "G4", NoteFit::tension, "#11"},     {"Db7", "B4", NoteFit::chord_tone, "b7"},
        {"Db7", "F4", NoteFit::chord_tone, "3"},    {"Db7", "Ab4", NoteFit::chord_tone, "5"},
        {"Db7", "Bb4", NoteFit::tension, "13"},     {"Db7", "A4", NoteFit::tension, "b13"},
        {"Db7", "E4", NoteFit::tension, "#9"},      {"Db7", "D4", NoteFit::tension, "b9"},
        {"Db7", "Db4", NoteFit::chord_tone, "1"},   {"Db7", "Eb4", NoteFit::tension, "9"},
        {"Db7", "C5", NoteFit::clash, "7"},         {"Db7", "Gb4", NoteFit::clash, "11"},
        {"Bb7", "G4", NoteFit::tension, "13"},      {"Bb7", "F4", NoteFit::chord_tone, "5"},
        {"Bb7", "D4", NoteFit::chord_tone, "3"},    {"Bb7", "A4", NoteFit::clash, "7"},
        {"Bb7", "Eb4", NoteFit::clash, "11"},       {"Bb7", "C5", NoteFit::tension, "9"},
        {"Bb7", "E4", NoteFit::tension, "#11"},     {"Bb7", "Db4", NoteFit::tension, "#9"},
        {"Fm7", "A4", NoteFit::clash, "3"},         {"Fm7", "B4", NoteFit::clash, "#11"},
        {"Fm7", "E4", NoteFit::clash, "7"},         {"Fm7", "G4", NoteFit::tension, "9"},
        {"G7sus4", "C5", NoteFit::chord_tone, "4"}, {"G7sus4", "B4", NoteFit::tension, "3"},
        {"G7", "C5", NoteFit::clash, "11"},         {"Cmaj7", "F4", NoteFit::clash, "11"},
        {"Fmaj7", "B4", NoteFit::tension, "#11"},
    };
    for (const auto& row : rows) {
        INFO(row.note << " over " << row.now);
        const auto verdict = judged("N.C.", row.now, "w " + row.note);
        REQUIRE(verdict.notes.size() == 1);
        CHECK(verdict.notes.front().fit == row.fit);
        CHECK(theory::to_string(verdict.notes.front().degree) == row.degree);
        CHECK(verdict.notes.front().held);
        CHECK(verdict.has_new_clash() == (row.fit == NoteFit::clash));
    }
}

TEST_CASE("a clash that the written chord had already is not new", "[melody]") {
    const auto verdict = judged("G7", "Db7", "w C5");
    REQUIRE(verdict.notes.size() == 1);
    CHECK(verdict.notes.front().fit == NoteFit::clash);
    CHECK(verdict.notes.front().clashed_before);
    CHECK_FALSE(verdict.has_new_clash());
    CHECK(verdict.sentence == "C is the major seventh of Db7: it clashes, as with the written chord.");
    CHECK(judged("G7", "G7", "w C5").sentence == "The melody fits.");  // nobody changed anything
}

TEST_CASE("short notes go by, held ones do not", "[melody]") {
    CHECK(judged("G7", "Db7", "e B4 C5 B4 Ab4 h G4").notes[1].fit == NoteFit::passing);
    CHECK(judged("G7", "Db7", "q B4 C5 B4 Ab4").has_new_clash() == false);  // C clashed with G7 too
    CHECK(judged("Dm7", "Db7", "q B4 C5 B4 Ab4").has_new_clash());          // a beat is held
    // On the first beat, neither reached nor left by step.
    CHECK(judged("Dm7", "Db7", "e C5 F5 Db5 F5 h Ab4").has_new_clash());
}

TEST_CASE("a short note that rubs goes by only between two steps", "[melody]") {
    struct Row {
        std::string melody;
        bool clashes;
    };
    // Over Dm7 F# is the other third, over Db7 C the other seventh: they name another chord.
    const Row thirds[] = {{"q A4 e G4 F#4 h G4", false},  // between two steps, off the beat
                          {"q A4 e F#4 G4 h A4", true},   // leapt to, on a weak beat
                          {"h A4 e G4 F#4 q D4", true},   // left by leap
                          {"h A4 q G4 e F#4 G4", true},   // on the fourth beat
                          {"e F#4 G4 h. A4", true}};      // on the first beat
    for (const auto& row : thirds) {
        INFO(row.melody);
        CHECK(judged("D7", "Dm7", row.melody).has_new_clash() == row.clashes);
    }
    CHECK(judged("Dm7", "Db7", "q B4 e B4 C5 h B4").sentence == "The melody fits. C goes by over Db7.");
    // G over Dmaj7, its fourth, avoided but no half step over the root: a step on one side will do.
    CHECK_FALSE(judged("Em7", "Dmaj7", "q A4 e D4 G4 h F#4").has_new_clash());
    CHECK(judged("Em7", "Dmaj7", "q A4 e D4 G4 h D4").has_new_clash());  // a leap on either side
}

TEST_CASE("struck again is held, and half of a short chord is long", "[melody]") {
    CHECK(judged("Dm7", "Db7", "q B4 e C5 C5 h B4").has_new_clash());        // two quavers, one crotchet
    CHECK_FALSE(judged("Dm7", "Db7", "q B4 e B4 C5 h B4").has_new_clash());  // one of them
    // What sounds when a chord comes in does not go by: F# with Dm7, between two steps.
    CHECK(judged("D7", "Dm7", "e F#4 G4 q F#4 h E4").has_new_clash());
}

TEST_CASE("notes that each go by may spell another chord together", "[melody]") {
    const auto verdict = judged("G7", "Cm", "e B4 C5 D5 Eb5 D5 Eb5 F5 Eb5");
    CHECK_FALSE(verdict.is_foreign_to(0));  // C and Eb are half of it
    CHECK(judged("G7", "Dbmaj7", "e B4 A4 B4 A4 G4 A4 B4 A4").is_foreign_to(0));
    CHECK_FALSE(judged("G7", "G7", "w r").is_foreign_to(0));  // nothing sounds
    // C# D# C# D# is as foreign to Cmaj7 as to Am7: the author wanted it so.
    CHECK_FALSE(judged("Cmaj7", "Am7", "e C#5 D#5 C#5 D#5 C#5 D#5 C#5 D#5").is_foreign_to(0));
}

TEST_CASE("tensions of the new chord may spell the written one together", "[melody]") {
    // D, B and F are 9, 7 and 11 over Cm: each may stand there, together they are G7.
    CHECK(judged("G7", "Cm/G", "q F4 D4 h B4").spells_written(0));
    CHECK_FALSE(judged("G7", "Cm/G", "q F4 D4 h B4").has_new_clash());
    CHECK_FALSE(judged("G7", "Cm/G", "q F4 D4 h G4").spells_written(0));  // G is in both
    CHECK_FALSE(judged("G7", "Db7", "h G4 G5").spells_written(0));        // one tone is no chord
    CHECK_FALSE(judged("G7", "Db7", "h G4 Eb4").spells_written(0));       // Eb is not in G7 either
}

TEST_CASE("what is not known is said", "[melody]") {
    CHECK(judged("G7", "Db7", "w ?").sentence == "Melody unknown: not checked.");
    CHECK_FALSE(judged("G7", "Db7", "w ?").known);
    CHECK(judged("G7", "Db7", "w r").sentence == "The melody fits.");
    CHECK(judged("G7", "Db7", "h B4 h ?").partly);
}

TEST_CASE("in the blues the blues scale of the tonic is at home", "[melody]") {
    CHECK(judged("N.C.", "C7", "w F4", "C blues").notes.front().fit == NoteFit::tension);
    CHECK(judged("N.C.", "C7", "w F4", "C major").notes.front().fit == NoteFit::clash);
}

TEST_CASE("altered tensions that the melody holds stand in the symbol", "[melody]") {
    const auto printed = [](const std::string& symbol, const std::string& melody) {
        const auto tune = testing::small_tune("C major", "G7", {"melody | " + melody + " |"});
        return theory::to_string(
            reharm::with_melody_tensions(tune, rules::Melodies(tune), 0, {chord(symbol), 0, Time(1)}));
    };
    CHECK(printed("Db7", "w E5") == "Db7#9");
    CHECK(printed("Db7", "w G4") == "Db7#11");
    CHECK(printed("Db7", "w Bb4") == "Db7");  // the natural 13 is understood
    CHECK(printed("Db7", "w F4") == "Db7");
    CHECK(printed("Db7", "w C5") == "Db7");            // clashes are not printed
    CHECK(printed("Db7", "e E5 F5 h. Ab5") == "Db7");  // too short
}
