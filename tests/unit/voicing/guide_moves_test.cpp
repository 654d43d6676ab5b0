#include "voicing/guide_moves.h"

#include "support/catch.h"
#include "support/small_tunes.h"
#include "unit/voicing/rows.h"

using namespace relead;
using testing::chords_of;
using voicing::MoveCounts;
using voicing::Tendency;

namespace {

voicing::LineReport report_of(const std::string& row, bool around = false) {
    const auto walk = voicing::walk_chords(chords_of(row), around);
    return voicing::report_line(walk, voicing::guide_line(walk));
}

}  // namespace

TEST_CASE("moves are counted where the chord changes, the turn to the top included") {
    struct Row {
        const char* chords;
        MoveCounts moves;
    };
    const Row row = GENERATE(values<Row>({
        // F F E, C B B, and back: E to F, B to C.
        {"Dm7 G7 Cmaj7", {2, 4, 0, 0}},
        {"C7 C7 C7", {0, 0, 0, 0}},     // nothing changes
        {"C7 C7b9", {4, 0, 0, 0}},      // a colour: both voices hold, there and back
        {"Dm7 N.C. G7", {1, 1, 0, 0}},  // only G7 to Dm7 round the turn
    }));
    INFO(row.chords);
    CHECK(report_of(row.chords).moves == row.moves);
}

TEST_CASE("tendency tones are judged by what sounds and where it goes") {
    struct Row {
        const char* chords;
        int tones, resolved, delayed;
        const char* source;
    };
    const Row row = GENERATE(values<Row>({
        {"G7 Cmaj7", 2, 2, 0, "Open Music Theory v2, \"ii–V–I\": B holds, F falls to E"},
        {"Db7 Cmaj7", 2, 2, 0, "Open Music Theory v2, \"Substitutions\": Cb holds as B, F falls to E"},
        {"G7 Cm7", 2, 2, 0, "F falls a whole tone, B a half step into the seventh; computed"},
        {"G7 C7", 2, 2, 0, "the same in a chain of dominants; computed"},
        {"G7 C", 2, 2, 0, "B rises to C, F falls to E; computed"},
        {"G7 C7sus4", 2, 1, 1, "F waits as the fourth; common practice, no source"},
        {"G7 Am7", 0, 0, 0, "a deceptive move: no tone of A pulls"},
        {"G7sus4 Cmaj7", 0, 0, 0, "no leading tone in it"},
        {"Bb7 Cmaj7", 0, 0, 0, "the backdoor holds neither B nor the tritone of C"},
        {"Dm7 G7", 0, 0, 0, "a minor seventh chord has no tritone"},
    }));
    INFO(row.chords << ": " << row.source);
    const auto chords = chords_of(row.chords);
    const auto line = voicing::guide_line(voicing::walk_chords(chords));
    REQUIRE(line.pairs[0]);
    REQUIRE(line.pairs[1]);
    const auto found = voicing::tendencies(chords[0], *line.pairs[0], chords[1], *line.pairs[1]);
    CHECK(static_cast<int>(found.size()) == row.tones);
    int resolved = 0, delayed = 0;
    for (const auto& tendency : found) {
        resolved += tendency.outcome == Tendency::Outcome::resolved ? 1 : 0;
        delayed += tendency.outcome == Tendency::Outcome::delayed ? 1 : 0;
    }
    CHECK(resolved == row.resolved);
    CHECK(delayed == row.delayed);
}

TEST_CASE("in Db7 to C the written seventh holds and the third falls") {
    const auto chords = chords_of("Db7 Cmaj7");
    const auto line = voicing::guide_line(voicing::walk_chords(chords));
    const auto found = voicing::tendencies(chords[0], *line.pairs[0], chords[1], *line.pairs[1]);
    REQUIRE(found.size() == 2);
    for (const auto& tendency : found) {
        const bool leading = tendency.tone == Tendency::Tone::leading_tone;
        CHECK(tendency.semitones == (leading ? 0 : -1));
        CHECK(voicing::to_string(tendency.outcome) == "resolved");
        CHECK(voicing::to_string(tendency.tone) == (leading ? "leading tone" : "fourth"));
    }
}

TEST_CASE("a tone that goes elsewhere is left") {
    const auto chords = chords_of("G7 Cmaj7");
    const auto tone = [&](std::size_t chord, int number, int alteration, int octave) {
        const theory::Degree degree{number, alteration};
        return voicing::GuideTone{degree, theory::pitch_from(theory::tone(chords[chord], degree), octave)};
    };
    // B3 F4 to B3 E5: the fourth leaps up instead of falling.
    const voicing::GuidePair before{tone(0, 3, 0, 3), tone(0, 7, -1, 4)};
    const voicing::GuidePair after{tone(1, 7, 0, 3), tone(1, 3, 0, 5)};
    const auto found = voicing::tendencies(chords[0], before, chords[1], after);
    REQUIRE(found.size() == 2);
    CHECK(found[0].outcome == Tendency::Outcome::resolved);
    CHECK(found[1].outcome == Tendency::Outcome::left);
    CHECK(found[1].semitones == 11);
}

TEST_CASE("a tune is reported over one chorus as played; a soloist's row when asked") {
    auto tune = testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | Cmaj7");
    const auto plain = voicing::report_line(tune);
    CHECK(plain.moves == MoveCounts{2, 4, 0, 0});
    CHECK(plain.tendency_tones == 2);
    CHECK(plain.resolved == 2);
    CHECK(plain.exact);
    auto& bar = tune.sections[0].bars[1];
    bar.soloist = bar.changes;
    bar.soloist->front().chord = chords_of("Db7").front();
    CHECK(voicing::report_line(tune).moves == plain.moves);
    CHECK(voicing::report_line(tune, voicing::ChordRow::soloist).moves == plain.moves);  // the same sounds
    bar.soloist->front().chord = chords_of("Fm6").front();
    CHECK_FALSE(voicing::report_line(tune, voicing::ChordRow::soloist).moves == plain.moves);
}
