// compiler/analysis: the home key with and without a header, and local keys.
#include "analysis/home_key.h"
#include "analysis/local_keys.h"
#include "support/catch.h"
#include "unit/analysis/told.h"

using namespace relead;
using testing::analysed;

namespace {

std::string key_of(const std::string& changes) {
    return theory::to_string(analysed("", changes).estimated);
}

}  // namespace

TEST_CASE("the home key is heard in cadences and places, not in the first or last chord") {
    struct Row {
        std::string what, changes, key;
    };
    const Row rows[] = {
        {"starts and ends at home", "Fmaj7 | D7 | Gm7 | C7 | Fmaj7 | Gm7 C7 | Fmaj7 | Fmaj7", "F major"},
        {"starts on ii, ends on V", "Gm7 | C7 | Fmaj7 | D7 | Gm7 | C7 | Fmaj7 D7 | Gm7 C7", "F major"},
        {"starts on IV, ends on the turnaround",
         "Fmaj7 | Fm7 Bb7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 A7 | Dm7 G7", "C major"},
        {"starts on II7", "D7 | D7 | Dm7 | G7 | Cmaj7 | Am7 | Dm7 G7 | Cmaj7", "C major"},
        {"minor", "Cm7 | Fm7 | Dm7b5 | G7b9 | Cm7 | Abmaj7 | Dm7b5 G7b9 | Cm6", "C minor"},
        {"minor, not its relative major", "Am7 | Dm7 | Bm7b5 E7 | Am7 | Dm7 | Am7 | Bm7b5 E7 | Am7",
         "A minor"},
        {"major, through its relative minor", "Cmaj7 | Bm7b5 E7 | Am7 | D7 | Dm7 | G7 | Cmaj7 | G7",
         "C major"},
        {"blues", "F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | D7 | Gm7 | C7 | F7 | C7", "F blues"},
        {"flat names stay flat", "Dbmaj7 | Bbm7 | Ebm7 | Ab7 | Dbmaj7 | Bbm7 | Ebm7 Ab7 | Dbmaj7",
         "Db major"},
        {"sharp names stay sharp", "Emaj7 | C#m7 | F#m7 | B7 | Emaj7 | C#m7 | F#m7 B7 | Emaj7", "E major"},
    };
    for (const auto& row : rows) {
        INFO(row.what << ": " << row.changes);
        CHECK(key_of(row.changes) == row.key);
    }
}

TEST_CASE("a header decides what home is; the estimate never looks at it") {
    const std::string changes = "Am7 | D7 | Gmaj7 | Gmaj7 | Am7 | D7 | Gmaj7 | Gmaj7";
    for (const std::string key : {"G major", "E minor", "D mixolydian", "G blues"}) {
        INFO(key);
        const auto analysis = analysed(key, changes);
        REQUIRE(analysis.given);
        CHECK(theory::to_string(*analysis.given) == key);
        CHECK(theory::to_string(analysis.home) == key);
        CHECK(theory::to_string(analysis.estimated) == "G major");
    }
    const auto bare = analysed("", changes);
    CHECK_FALSE(bare.given);
    CHECK(theory::to_string(bare.home) == "G major");
}

TEST_CASE("an empty chorus has a key too") {
    const auto analysis = analysed("", "N.C. | N.C.");
    CHECK(analysis.chords.size() == 2);
    CHECK(analysis.home == analysis.estimated);
}

TEST_CASE("what is a blues, and what its end") {
    struct Row {
        std::string what, changes;
        int tonic;
        bool blues;
    };
    const Row rows[] = {
        {"three chords", "C7 | C7 | C7 | C7 | F7 | F7 | C7 | C7 | G7 | F7 | C7 | C7", 0, true},
        {"seen from its IV", "C7 | C7 | C7 | C7 | F7 | F7 | C7 | C7 | G7 | F7 | C7 | C7", 5, false},
        {"major tonic with its own dominant of IV", "C | C7 | F | F7 | C | G7 | C | G7", 0, false},
    };
    for (const auto& row : rows) {
        INFO(row.what << ": " << row.changes);
        const auto tune = testing::small_tune("C major", row.changes);
        CHECK(analysis::is_blues(analysis::hear(tune), row.tonic) == row.blues);
    }
    const auto end = [](const std::string& changes, bool minor, bool blues) {
        const auto tune = testing::small_tune("C major", changes);
        return analysis::final_tonic(analysis::hear(tune), {0, minor}, blues);
    };
    CHECK(end("Dm7 | G7 | C | C", false, false) == 3);
    CHECK(end("C | F | C Am | Dm7 G7", false, false) == 2);
    CHECK(end("C | F | G7 | C | F | F | G7 | G7", false, false) == -1);
    CHECK(end("C7 | F7 | C7 | G7", false, true) == 2);
    CHECK(end("F7 | G7 | C7 | G7", false, false) == -1);
    CHECK(end("Fm7 | G7 | C | C", true, false) == 3);  // a minor tune that closes in major
    // A vamp of two bars to the end has no last chord; with another beginning it has.
    CHECK(end("C Bb7 | Ab7 G7 | C Bb7 | Ab7 G7 | C Bb7 | Ab7 G7", false, false) == -1);
    CHECK(end("F | Fm6 | C Bb7 | Ab7 G7 | C Bb7 | Ab7 G7", false, false) == 6);
}

TEST_CASE("only a cadence that is dwelt on moves the ear") {
    struct Row {
        std::string what, key, changes, keys;
    };
    const Row rows[] = {
        {"secondary dominants stay at home", "C major",
         "Cmaj7 | A7 | Dm7 | G7 | Em7 A7 | D7 | Dm7 G7 | Cmaj7", "C major: 0-9"},
        {"four bars in another key", "C major",
         "Cmaj7 | Cmaj7 | Bbm7 | Eb7 | Abmaj7 | Abmaj7 | Bbm7 Eb7 | Abmaj7 | Dm7 | G7 | Cmaj7 | Cmaj7",
         "C major: 0-1, Ab major: 2-8, C major: 9-12"},
    };
    for (const auto& row : rows) {
        INFO(row.what << ", " << row.key << ": " << row.changes);
        CHECK(testing::local_keys(analysed(row.key, row.changes)) == row.keys);
    }
}

TEST_CASE("a section's own key is the ground of its chords, the header's estimate does not hear it") {
    const std::string head =
        "tune \"Ground\"\nkey C major\nmeter 4/4\ntempo 120\nform A B A\n\nsection A\n"
        "changes | Cmaj7 | Am7 | Dm7 | G7 |\n\nsection B\n";
    const std::string changes = "changes | Ebmaj7 | Cm7 | Fm7 | Bb7 | Gm7 | C7 | Fm7 | Bb7 |\n";
    const auto plain = analysis::analyse(testing::read_whole(head + changes));
    const auto stated = analysis::analyse(testing::read_whole(head + "key Eb major\n" + changes));
    CHECK(testing::local_keys(stated) == "C major: 0-3, Eb major: 4-11");
    CHECK(stated.estimated == plain.estimated);
    CHECK(testing::numerals(stated) == "Imaj7 vi7 ii7 V7 Imaj7 vi7 ii7 V7 iii7 V7/ii ii7 V7");
}

TEST_CASE("seven accidentals are kept where the tune writes its tonic so") {
    CHECK(key_of("Abm7 | Dbm7 | Bbm7b5 Eb7 | Abm7 | Dbm7 | Abm7 | Bbm7b5 Eb7 | Abm6") == "Ab minor");
}
