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
