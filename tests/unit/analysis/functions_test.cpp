// compiler/analysis/functions.cpp: what chords are called and do, one row for each thing that a well-read
// player recognises. Numerals count from the major scale of the tonic; iii and vi before the dominant a fifth
// below serve as its ii, and then they are predominants.
//
// OMT = Open Music Theory v2, part Jazz (M. Lavengood): "ii-V-I", "Substitutions", "Embellishing chords";
// WP = Wikipedia; FS = F. Singer, Secondary and Extended Dominants; MTM = musictheorymanual.com, Passing
// diminished seventh chords; MI = Modal Interchange (hand-out); CP = common practice, no source.
#include "support/catch.h"
#include "unit/analysis/told.h"

using namespace relead;
using testing::analysed;

namespace {

struct Row {
    std::string what, source, key, changes, numerals, functions;
};

void check_rows(const std::vector<Row>& rows) {
    for (const auto& row : rows) {
        INFO(row.what << " (" << row.source << "), " << row.key << ": " << row.changes);
        const auto analysis = analysed(row.key, row.changes);
        CHECK(testing::numerals(analysis) == row.numerals);
        CHECK(testing::functions(analysis) == row.functions);
    }
}

}  // namespace

TEST_CASE("two-five-ones") {
    check_rows({
        {"major", "OMT", "C major", "Dm7 | G7 | Cmaj7 | Cmaj7", "ii7 V7 Imaj7 Imaj7", "P D T T"},
        {"major, sixth chord", "OMT", "Ab major", "Bbm7 | Eb7 | Ab6 | Ab6", "ii7 V7 I6 I6", "P D T T"},
        {"minor", "OMT", "C minor", "Dm7b5 | G7b9 | Cm6 | Cm6", "iiø7 V7b9 i6 i6", "P D T T"},
        {"minor seventh as tonic", "OMT", "C minor", "Dm7b5 | G7 | Cm7 | Cm7", "iiø7 V7 i7 i7", "P D T T"},
        {"without its ii", "OMT", "F major", "Fmaj7 | C7 | Fmaj7 | Fmaj7", "Imaj7 V7 Imaj7 Imaj7", "T D T T"},
        {"without its tonic", "OMT", "C major", "Cmaj7 | Cmaj7 | Dm7 | G7", "Imaj7 Imaj7 ii7 V7", "T T P D"},
        {"in minor, without its ii", "OMT", "C minor", "Cm6 | G7b9 | Cm6 | Cm6", "i6 V7b9 i6 i6", "T D T T"},
        {"in minor, without its tonic", "OMT", "C minor", "Cm7 | Cm7 | Dm7b5 | G7b9", "i7 i7 iiø7 V7b9",
         "T T P D"},
        {"suspended dominant", "CP", "C major", "Dm7 | G7sus4 G7 | Cmaj7 | Cmaj7",
         "ii7 V7sus4 V7 Imaj7 Imaj7", "P D D T T"},
        {"suspension alone", "CP", "C major", "Cmaj7 | G9sus4 | Cmaj7 | Cmaj7", "Imaj7 V9sus4 Imaj7 Imaj7",
         "T D T T"},
        {"ii from the parallel minor", "OMT", "C major", "Dm7b5 | G7b9 | Cmaj7 | Cmaj7",
         "iiø7 V7b9 Imaj7 Imaj7", "P D T T"},
        {"IV in the place of ii", "OMT", "C major", "Cmaj7 | Fmaj7 | G7 | Cmaj7", "Imaj7 IVmaj7 V7 Imaj7",
         "T P D T"},
    });
}

TEST_CASE("secondary and extended dominants") {
    check_rows({
        {"of ii", "FS", "C major", "Cmaj7 | A7 | Dm7 G7 | Cmaj7", "Imaj7 V7/ii ii7 V7 Imaj7", "T D P D T"},
        {"of iii", "FS", "C major", "Cmaj7 | B7 | Em7 A7 | Dm7 G7 | Cmaj7 | Cmaj7",
         "Imaj7 V7/iii iii7 V7/ii ii7 V7 Imaj7 Imaj7", "T D P D P D T T"},
        {"of IV", "FS", "C major", "Cmaj7 | C7 | Fmaj7 G7 | Cmaj7", "Imaj7 V7/IV IVmaj7 V7 Imaj7",
         "T D P D T"},
        {"of V, that turns into ii first", "CP", "C major", "Fmaj7 | Fm6 | Em7 | A7 | D7 | Dm7 | G7 | C6",
         "IVmaj7 iv6 iii7 V7/ii V7/V ii7 V7 I6", "P b P D D P D T"},
        {"of V", "FS", "C major", "Cmaj7 | D7 | G7 | Cmaj7", "Imaj7 V7/V V7 Imaj7", "T D D T"},
        {"of vi", "FS", "C major", "Cmaj7 | E7 | Am7 D7 | Dm7 G7 | Cmaj7 | Cmaj7",
         "Imaj7 V7/vi vi7 V7/V ii7 V7 Imaj7 Imaj7", "T D P D P D T T"},
        {"of V, over its ii", "CP", "C major", "Cmaj7 | D7 | Dm7 G7 | Cmaj7", "Imaj7 V7/V ii7 V7 Imaj7",
         "T D P D T"},
        {"each made the dominant of the next", "OMT", "C major", "C A7 | D7 G7 | C | C",
         "I V7/ii V7/V V7 I I", "T D D D T T"},
        {"ii and dominant of IV", "OMT", "C major", "Cmaj7 | Gm7 C7 | Fmaj7 G7 | Cmaj7",
         "Imaj7 ii7/IV V7/IV IVmaj7 V7 Imaj7", "T P D P D T"},
        {"of a chromatic chord", "OMT", "Bb major", "Bbmaj7 | Db7 | Gbmaj7 F7 | Bbmaj7",
         "Imaj7 V7/bVI bVImaj7 V7 Imaj7", "T D b D T"},
        {"in minor, of iv", "CP", "C minor", "Cm7 | C7b9 | Fm7 G7 | Cm7", "i7 V7b9/iv iv7 V7 i7",
         "T D P D T"},
    });
}

TEST_CASE("substitute dominants and their iis") {
    check_rows({
        {"of the tonic", "WP Tritone substitution", "C major", "Dm7 | Db7 | Cmaj7 | Cmaj7",
         "ii7 subV7 Imaj7 Imaj7", "P S T T"},
        {"of ii", "FS", "C major", "Cmaj7 | Eb7 | Dm7 G7 | Cmaj7", "Imaj7 subV7/ii ii7 V7 Imaj7",
         "T S P D T"},
        {"of V", "CP", "C major", "Cmaj7 | Ab7 | G7 | Cmaj7", "Imaj7 subV7/V V7 Imaj7", "T S D T"},
        {"of IV", "FS", "C major", "Cmaj7 | Gb7 | Fmaj7 G7 | Cmaj7", "Imaj7 subV7/IV IVmaj7 V7 Imaj7",
         "T S P D T"},
        {"of each dominant of a turnaround", "WP Tadd Dameron turnaround", "C major",
         "Cmaj7 | Dm7 G7 | Cmaj7 Eb7 | Ab7 Db7", "Imaj7 ii7 V7 Imaj7 subV7/ii subV7/V subV7",
         "T P D T S S S"},
        {"of each, back to a top on ii", "CP", "C major", "Dm7 | G7 | Cmaj7 Eb7 | Ab7 Db7",
         "ii7 V7 Imaj7 subV7/ii subV7/V subV7", "P D T S S S"},
        {"its dominant, where V7 follows", "OMT", "Bb major", "Bbmaj7 | C7 Db7 | Gb7 F7 | Bbmaj7",
         "Imaj7 V7/V V7/bVI subV7/V V7 Imaj7", "T D D S D T"},
        {"a ii of a chain", "CP", "C major", "Cmaj7 | Ebm7 Ab7 | Db7 | Cmaj7",
         "Imaj7 biii7 subV7/V subV7 Imaj7", "T P S S T"},
        {"on a degree of the scale it is a dominant", "CP", "C major",
         "Cmaj7 | C7 | F7 | Em7 | Dm7 G7 | Cmaj7", "Imaj7 V7/IV subV7/iii iii7 ii7 V7 Imaj7",
         "T D S T P D T"},
        {"bVII7 of minor is none of a chain", "CP", "C minor", "Cm7 | Bb7 | Eb7 | Dm7b5 G7 | Cm7 | Cm7",
         "i7 V7/bIII subV7/ii iiø7 V7 i7 i7", "T D S P D T T"},
        {"its own ii", "CP", "C major", "Cmaj7 | Abm7 Db7 | Cmaj7 | Cmaj7", "Imaj7 bvi7 subV7 Imaj7 Imaj7",
         "T P S T T"},
    });
}

TEST_CASE("backdoor, or two and substitute of another goal") {
    check_rows({
        {"iv bVII I", "WP Backdoor progression", "C major", "Cmaj7 | Fm7 | Bb7 | Cmaj7",
         "Imaj7 iv7 bVII7 Imaj7", "T P B T"},
        {"the dominant alone", "WP Backdoor progression", "C major", "Cmaj7 | Bb7 | Cmaj7 | Cmaj7",
         "Imaj7 bVII7 Imaj7 Imaj7", "T B T T"},
        {"iii for the tonic", "CP", "C major", "Fm7 | Bb7 | Em7 A7 | Dm7 G7 | Cmaj7 | Cmaj7",
         "iv7 bVII7 iii7 V7/ii ii7 V7 Imaj7 Imaj7", "P B P D P D T T"},
        {"the same pair falls to vi", "FS", "C major", "Cmaj7 | Fm7 Bb7 | Am7 D7 | Dm7 G7 | Cmaj7 | Cmaj7",
         "Imaj7 iv7 subV7/vi vi7 V7/V ii7 V7 Imaj7 Imaj7", "T P S P D P D T T"},
        {"the same pair goes on by fifth", "CP", "C major",
         "Cmaj7 | Fm7 Bb7 | Ebmaj7 | Dm7 G7 | Cmaj7 | Cmaj7",
         "Imaj7 ii7/bIII V7/bIII bIIImaj7 ii7 V7 Imaj7 Imaj7", "T P D b P D T T"},
        {"to the tonic of a blues", "CP", "C blues", "C7 | F7 Bb7 | C7 | C7", "I7 IV7 bVII7 I7 I7",
         "T T B T T"},
        {"a dominant on the tonic's root is no home", "CP", "E minor",
         "Am7 | D7 | Bm7 | E7b9 | Am7 | D7 | F#m7b5 | B7b9", "iv7 bVII7 ii7/iv V7b9/iv iv7 bVII7 iiø7 V7b9",
         "P - P D P - P D"},
    });
}

TEST_CASE("dominants that go elsewhere") {
    const std::vector<std::pair<std::string, std::string>> rows = {
        {"Cmaj7 | G7 | Am7 | Dm7 G7", "1"},            // V7 vi7 (CP)
        {"Cmaj7 | G7 | Abmaj7 | Dm7 G7", "1"},         // V7 bVImaj7 (CP)
        {"Cmaj7 | G7 | Cmaj7 | Dm7 G7", ""},           // resolves
        {"Cmaj7 | Dm7 | G7 | Em7 A7 | Dm7 | G7", ""},  // iii for I is no surprise (WP Turnaround)
    };
    for (const auto& [changes, deceptive] : rows) {
        INFO(changes);
        CHECK(testing::chords_with(analysed("C major", changes), &analysis::ChordFact::deceptive) ==
              deceptive);
    }
    // At the end of a part the dominant is a half cadence (CP).
    const auto half =
        analysed("C major", "Cmaj7 | F6 | Cmaj7 | F6 | Cmaj7 | Am7 | Dm7 | G7 | Am7 | Dm7 | G7 | Cmaj7");
    CHECK(testing::chords_with(half, &analysis::ChordFact::deceptive).empty());
    const auto minor = analysed("C minor", "Cm7 | G7 | Abmaj7 | Dm7b5 G7");
    CHECK(testing::chords_with(minor, &analysis::ChordFact::deceptive) == "1");
}

TEST_CASE("diminished chords of every kind") {
    check_rows({
        {"passing upwards", "MTM", "C major", "Cmaj7 C#dim7 | Dm7 G7 | Cmaj7 | Cmaj7",
         "Imaj7 #i°7 ii7 V7 Imaj7 Imaj7", "T pd P D T T"},
        {"passing upwards to iii", "MTM", "C major", "Dm7 D#dim7 | Em7 A7 | Dm7 G7 | Cmaj7",
         "ii7 #ii°7 iii7 V7/ii ii7 V7 Imaj7", "P pd P D P D T"},
        {"passing downwards", "MTM", "C major", "Cmaj7 | Em7 Ebdim7 | Dm7 G7 | Cmaj7",
         "Imaj7 iii7 biii°7 ii7 V7 Imaj7", "T T pd P D T"},
        {"passing to V", "CP", "C major", "Fmaj7 F#dim7 | G7 | Cmaj7 | Cmaj7", "IVmaj7 #iv°7 V7 Imaj7 Imaj7",
         "P pd D T T"},
        {"down to V from afar", "CP", "C major", "Cmaj7 | Abdim7 | G7 | Cmaj7", "Imaj7 bvi°7 V7 Imaj7",
         "T pd D T"},
        {"auxiliary on the tonic", "OMT", "C major", "C6 | Cdim7 | C6 | C6", "I6 i°7 I6 I6", "T ad T T"},
        {"IV, #iv, I over 5: the bass walks", "CP", "C major", "Fmaj7 | F#dim7 | C/G A7 | Dm7 G7 | C | C",
         "IVmaj7 #iv°7 I/5 V7/ii ii7 V7 I I", "P pd T D P D T T"},
        {"leading note", "CP", "C minor", "Cm7 | Bdim7 | Cm7 | Cm7", "i7 vii°7 i7 i7", "T pd T T"},
    });
}

// OMT, "Embellishing chords": the common-tone diminished chord holds the root of the chord that it colours.
TEST_CASE("common-tone diminished chords are told from passing ones") {
    const std::vector<std::pair<std::string, std::string>> rows = {
        {"C6 | Cdim7 | C6 | C6", "1"},                // the root stays in the bass
        {"C6 | D#dim7 | C6 | C6", "1"},               // or above it
        {"Cdim7 | C6 | Dm7 | G7", "0"},               // the tonic held back
        {"C6 | C#dim7 | Dm7 | G7", ""},               // passing upwards
        {"C6 | Bdim7 | C6 | C6", ""},                 // leading tone
        {"Fmaj7 | F#dim7 | C/G | A7 | Dm7 | G7", ""}  // the bass walks
    };
    for (const auto& [changes, held] : rows) {
        INFO(changes);
        CHECK(testing::chords_with(analysed("C major", changes), &analysis::ChordFact::common_tone) == held);
    }
}

TEST_CASE("borrowed chords") {
    check_rows({
        {"minor iv", "WP Backdoor progression", "C major", "Cmaj7 | Fmaj7 | Fm6 | Cmaj7",
         "Imaj7 IVmaj7 iv6 Imaj7", "T P b T"},
        {"bVI and bII", "MI", "C major", "Cmaj7 | Abmaj7 | Dbmaj7 | Cmaj7", "Imaj7 bVImaj7 bIImaj7 Imaj7",
         "T b b T"},
        {"bIII", "MI", "C major", "Cmaj7 | Ebmaj7 | Dm7 G7 | Cmaj7", "Imaj7 bIIImaj7 ii7 V7 Imaj7",
         "T b P D T"},
        {"bVII", "MI", "C major", "Cmaj7 | Bbmaj7 | Fmaj7 G7 | Cmaj7", "Imaj7 bVIImaj7 IVmaj7 V7 Imaj7",
         "T b P D T"},
        {"minor tonic before its return", "MI", "C major", "Cmaj7 | Cm7 | Cmaj7 | G7", "Imaj7 i7 Imaj7 V7",
         "T b T D"},
        {"minor v", "MI", "C major", "Cmaj7 | Gm7 | Fmaj7 G7 | Cmaj7", "Imaj7 v7 IVmaj7 V7 Imaj7",
         "T b P D T"},
    });
}

TEST_CASE("sevenths at rest in a blues") {
    const auto rest = &analysis::ChordFact::blues_tonic;
    const auto basic = analysed(
        "C blues", "C7 | C7 | C7 | C7 | F7 | F7 | C7 | C7 | G7 | F7 | C7 | C7");  // WP Twelve-bar blues
    CHECK(testing::functions(basic) == "T T T T T T T T D T T T");
    CHECK(testing::chords_with(basic, rest) == "0 1 2 3 4 5 6 7 9 10 11");
    CHECK(testing::numerals(basic) == "I7 I7 I7 I7 IV7 IV7 I7 I7 V7 IV7 I7 I7");
    // With its own ii the I7 of bar 4 is the dominant of IV (WP ii-V-I progression).
    const auto led =
        analysed("F blues", "F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bb7 | F7 | D7 | Gm7 | C7 | F7 D7 | Gm7 C7");
    CHECK(testing::chords_with(led, rest) == "0 1 2 5 6 7 11");
    CHECK(testing::numerals(led) == "I7 IV7 I7 ii7/IV V7/IV IV7 IV7 I7 V7/ii ii7 V7 I7 V7/ii ii7 V7");
    CHECK(led.chords[4].function == analysis::Function::dominant);
    // No key stated: a blues all the same.
    const auto heard = analysed("", "Bb7 | Eb7 | Bb7 | Bb7 | Eb7 | Eb7 | Bb7 | G7 | Cm7 | F7 | Bb7 | F7");
    CHECK(theory::to_string(heard.estimated) == "Bb blues");
    CHECK(testing::chords_with(heard, rest) == "0 1 2 3 4 5 6 10");
    // V7/IV of a tune that is no blues is a dominant.
    const auto song = analysed("C major", "Cmaj7 | C7 | Fmaj7 | G7 | Cmaj7 | C7 | F7 G7 | Cmaj7");
    CHECK(testing::chords_with(song, rest).empty());
}

TEST_CASE("numerals count as musicians do") {
    // OMT, Substitutions: related ii of a minor goal; the rest common practice, no source.
    CHECK(testing::numerals(analysed("C major", "Cmaj7 | Bm7b5 E7 | Am7 | Dm7 G7")) ==
          "Imaj7 iiø7/vi V7/vi vi7 ii7 V7");
    CHECK(testing::numerals(analysed("C major", "Cmaj7 | Gm7 Gb7 | Fmaj7 | Dm7 G7")) ==
          "Imaj7 ii7/IV subV7/IV IVmaj7 ii7 V7");
    CHECK(testing::numerals(analysed("Db major", "Dbmaj7 | Emaj7 | Ebm7 | Ab7")) == "Imaj7 bIIImaj7 ii7 V7");
    CHECK(testing::numerals(analysed("A minor", "Am7 | Abmaj7 | Am7 | E7")) == "i7 VIImaj7 i7 V7");
    CHECK(testing::numerals(analysed("C major", "Cmaj7 | C#dim7 | Dm7 | D#dim7 | Em7 | A7 | Dm7 | G7")) ==
          "Imaj7 #i°7 ii7 #ii°7 iii7 V7/ii ii7 V7");
}

TEST_CASE("iis know the dominant that they serve, dominants their goal") {
    const auto analysis = analysed("C major", "Cmaj7 | Bm7b5 E7 | Am7 | Abm7 Db7 | Cmaj7 | Dm7 G7");
    CHECK(testing::chords_with(analysis, &analysis::ChordFact::related_ii) == "1 4 7");
    std::vector<int> goals;
    for (const auto& fact : analysis.chords) goals.push_back(fact.applied_to);
    CHECK(goals == std::vector<int>{-1, 3, 3, -1, 6, 6, -1, 0, 0});
    // A backdoor to iii that stands for the tonic.
    const auto to_iii = analysed("C major", "Fm7 | Bb7 | Em7 | Am7 | Dm7 | G7 | Cmaj7 | Cmaj7");
    CHECK(to_iii.chords[1].function == analysis::Function::backdoor);
    CHECK(to_iii.chords[1].applied_to == 2);
}
