// compiler/reharm/judge.cpp: what a change is told about the melody.
#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

TEST_CASE("where the melody spells the written chord another one is refused", "[reharm]") {
    const auto tune = testing::small_tune("C minor", "Fm7 | G7 | Cm7 | Cm7",
                                          {"melody | w Ab4 | e F4 D4 F4 D4 h G4 | w G4 | w G4 |"});
    const auto refused = testing::option_by(tune, "A:2", "cadential-six-four-minor");
    REQUIRE(refused.verdict.refusals.size() == 1);
    CHECK(refused.verdict.refusals.front().sentence ==
          "The melody spells the written chord: none of its notes is a tone of Cm/G.");
    const auto fits = testing::small_tune("C minor", "Fm7 | G7 | Cm7 | Cm7",
                                          {"melody | w Ab4 | e F4 Eb4 D4 Eb4 h G4 | w G4 | w G4 |"});
    CHECK(testing::option_by(fits, "A:2", "cadential-six-four-minor").verdict.allowed());
}

TEST_CASE("a colour that the tune wrote itself is not the melody's", "[reharm]") {
    const std::string melody = "melody | h C5 Db5 | w Ab4 | w B4 | w C5 |";
    const auto written = testing::small_tune("C minor", "C7b9 | Fm7 | G7 | Cm7", {melody});
    const auto kept = testing::option_by(written, "A:1", "rising-bass-dominant");
    CHECK(theory::to_string(kept.new_chords.back()) == "C7b9/E");
    CHECK(kept.verdict.melody.sentence == "The melody fits.");
    const auto plain = testing::small_tune("C minor", "C7 | Fm7 | G7 | Cm7", {melody});
    CHECK(testing::option_by(plain, "A:1", "rising-bass-dominant").verdict.melody.sentence ==
          "The melody colours C7/E into C7b9/E.");
}

TEST_CASE("what goes by is told beside a colour of the symbol", "[reharm]") {
    // A5 is the #11 of Eb7 and named in it; E5 goes by between F5 and Eb5.
    const auto tune = testing::small_tune("C major", "A7 | Dm7 | G7 | Cmaj7",
                                          {"melody | h A4 e F5 E5 q Eb5 | w F5 | w D5 | w E5 |"});
    const auto option = testing::option_by(tune, "A:1", "tritone");
    CHECK(theory::to_string(option.new_chords.front()) == "Eb7#11");
    CHECK(option.verdict.melody.sentence == "The melody colours Eb7 into Eb7#11. E goes by over Eb7#11.");
}

TEST_CASE("a colour over a chord that stays is not told as news", "[reharm]") {
    // Ab is the b9 of G7, which stays; the ii before it is the change.
    const auto tune = testing::small_tune("C major", "Cmaj7 | G7 | Cmaj7 | Cmaj7",
                                          {"melody | w E4 | h F4 Ab4 | w G4 | w G4 |"});
    CHECK(testing::option_by(tune, "A:2", "related-ii").verdict.melody.sentence == "The melody fits.");
}
