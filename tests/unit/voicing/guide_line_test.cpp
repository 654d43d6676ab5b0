#include "voicing/guide_line.h"

#include "support/catch.h"
#include "unit/voicing/rows.h"
#include "voicing/guide_moves.h"

using namespace relead;
using testing::chords_of;
using testing::voice_text;

namespace {

std::string names(const std::string& pitches) {
    std::string text;
    for (const char c : pitches) {
        if (c < '0' || c > '9') text += c;
    }
    return text;
}

/// The two voices without octaves, the lower one first.
std::string line_names(const std::string& row) {
    const auto line = voicing::guide_line(voicing::walk_chords(chords_of(row)));
    CHECK(line.exact);
    return names(voice_text(line, false)) + " / " + names(voice_text(line, true));
}

bool either_way(const std::string& line, const std::string& a, const std::string& b) {
    return line == a + " / " + b || line == b + " / " + a;
}

}  // namespace

TEST_CASE("the register and the weights of the guide-tone line are read from their tables") {
    const auto weights = voicing::guide_line_weights();
    CHECK(weights.where == voicing::Register{48, 72});  // C3 to C5
    CHECK(weights.motion > 0);
    CHECK(weights.drift > 0);
    CHECK(weights.free > 0);
    CHECK(weights.widest == 11);
    // Mild: a semitone of motion costs more than a semitone beyond the free middle for half a dozen chords.
    CHECK(weights.motion >= 6 * 2 * weights.drift);
    CHECK_FALSE(voicing::find_register("nowhere"));
}

TEST_CASE("published guide-tone lines") {
    struct Row {
        const char* chords;
        const char* one;
        const char* other;
        const char* source;
    };
    const char* const ii_v = "Open Music Theory v2, \"ii–V–I\": 3 holds as 7, 7 falls to 3";
    const char* const substitute = "Open Music Theory v2, \"Substitutions\": the substitute shares 3 and 7";
    const Row row = GENERATE_COPY(values<Row>({
        {"Dm7 G7 Cmaj7", "F F E", "C B B", ii_v},
        {"Gm7 C7 Fmaj7", "Bb Bb A", "F E E", ii_v},
        {"Cm7 F7 Bbmaj7", "Eb Eb D", "Bb A A", ii_v},
        {"Fm7 Bb7 Ebmaj7", "Ab Ab G", "Eb D D", ii_v},
        {"Bbm7 Eb7 Abmaj7", "Db Db C", "Ab G G", ii_v},
        {"Ebm7 Ab7 Dbmaj7", "Gb Gb F", "Db C C", ii_v},
        {"Abm7 Db7 Gbmaj7", "Cb Cb Bb", "Gb F F", ii_v},
        {"C#m7 F#7 Bmaj7", "E E D#", "B A# A#", ii_v},
        {"F#m7 B7 Emaj7", "A A G#", "E D# D#", ii_v},
        {"Bm7 E7 Amaj7", "D D C#", "A G# G#", ii_v},
        {"Em7 A7 Dmaj7", "G G F#", "D C# C#", ii_v},
        {"Am7 D7 Gmaj7", "C C B", "G F# F#", ii_v},
        {"Dm7b5 G7 Cm7", "F F Eb", "C B Bb", "the same in minor: 3 falls a whole tone; computed"},
        {"Bm7b5 E7 Am6", "D D C", "A G# F#", "the same in minor, 7 falls to 6; computed"},
        {"Dm7 Db7 Cmaj7", "F F E", "C Cb B", substitute},
        {"G7 Db7", "F F", "B Cb", substitute},
        {"E7 A7 D7 G7 C7 F7", "G# G F# F E Eb", "D C# C B Bb A",
         "common practice, no source: a cycle of dominants falls by half steps, the roles change"},
        {"E7 Eb7 D7 Db7 Cmaj7", "G# G F# F E", "D Db C Cb B",
         "common practice, no source: every second dominant by its substitute, the same sounds"},
        {"Cmaj7 C#dim7 Dm7", "E E F", "B Bb C", "common practice, no source: passing diminished"},
    }));
    INFO(row.chords << ": " << row.source);
    const auto line = line_names(row.chords);
    INFO(line);
    CHECK(either_way(line, row.one, row.other));
}

TEST_CASE("the line lies round the middle of its register") {
    const auto line = voicing::guide_line(voicing::walk_chords(chords_of("Dm7 G7 Cmaj7"), true));
    CHECK(voice_text(line, false) == "C4 B3 B3");
    CHECK(voice_text(line, true) == "F4 F4 E4");
}

TEST_CASE("what the chords have decides what sounds") {
    struct Row {
        const char* chords;
        const char* lower;
        const char* upper;
    };
    const Row row = GENERATE(values<Row>({
        {"C6", "A3", "E4"},               // 3 and 6
        {"G7sus4 G7", "C4 B3", "F4 F4"},  // 4 and 7; 4 falls to 3
        {"C F", "G3 A3", "E4 F4"},        // triads: 3 with 1 or 5, whichever moves less
        {"Cmaj7 N.C. Cmaj7", "B3 - B3", "E4 - E4"},
    }));
    const auto line = voicing::guide_line(voicing::walk_chords(chords_of(row.chords)));
    INFO(row.chords);
    CHECK(voice_text(line, false) == row.lower);
    CHECK(voice_text(line, true) == row.upper);
}

TEST_CASE("N.C. ends the line: what stands before it has no say after it") {
    const auto alone = voicing::guide_line(voicing::walk_chords(chords_of("Ebm7 Ab7")));
    const auto after = voicing::guide_line(voicing::walk_chords(chords_of("Em7 A7 N.C. Ebm7 Ab7")));
    REQUIRE(after.pairs.size() == 5);
    CHECK_FALSE(after.pairs[2]);
    CHECK(after.pairs[3] == alone.pairs[0]);
    CHECK(after.pairs[4] == alone.pairs[1]);
}

TEST_CASE("a long fall turns back before the register ends, with as few moves beyond a step as that takes") {
    const auto walk =
        voicing::walk_chords(chords_of("E7 A7 D7 G7 C7 F7 Bb7 Eb7 Ab7 Db7 Gb7 B7 E7 A7 D7 G7 C7 F7 Bb7 Eb7"));
    const auto line = voicing::guide_line(walk);
    for (const auto& pair : line.pairs) {
        REQUIRE(pair);
        CHECK(theory::midi_number(pair->lower.pitch) >= 48);
        CHECK(theory::midi_number(pair->upper.pitch) <= 72);
        CHECK(theory::midi_number(pair->lower.pitch) < theory::midi_number(pair->upper.pitch));
    }
    // 19 half-step falls do not fit into two octaves without turning back once.
    const auto moves = voicing::report_line(walk, line).moves;
    CHECK(moves.skip + moves.leap >= 2);
    CHECK(moves.skip + moves.leap <= 6);
}

TEST_CASE("an empty walk has an empty line") {
    const auto line = voicing::guide_line(voicing::walk_chords(std::vector<theory::Chord>{}));
    CHECK(line.pairs.empty());
    CHECK(line.exact);
}
