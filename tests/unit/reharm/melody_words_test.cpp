// compiler/reharm/judge.cpp: what a change is told about the melody.
#include <algorithm>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// What `rule` would write at `place`.
reharm::Option option(const tune::Tune& tune, const std::string& place, const std::string& rule) {
    const auto outcome = reharm::options(tune, analysis::analyse(tune), rules::built_in_rules(),
                                         *tune::parse_address(place), {});
    REQUIRE(outcome.value.has_value());
    const auto found = std::find_if(outcome.value->begin(), outcome.value->end(),
                                    [&](const reharm::Option& one) { return one.rule == rule; });
    REQUIRE(found != outcome.value->end());
    return *found;
}

}  // namespace

TEST_CASE("where the melody spells the written chord another one is refused", "[reharm]") {
    const auto tune = testing::small_tune("C minor", "Fm7 | G7 | Cm7 | Cm7",
                                          {"melody | w Ab4 | e F4 D4 B3 D4 h G4 | w G4 | w G4 |"});
    const auto refused = option(tune, "A:2", "cadential-six-four-minor");
    REQUIRE(refused.verdict.refusals.size() == 1);
    CHECK(refused.verdict.refusals.front().sentence ==
          "The melody spells the written chord: none of its notes is a tone of Cm/G.");
    const auto fits = testing::small_tune("C minor", "Fm7 | G7 | Cm7 | Cm7",
                                          {"melody | w Ab4 | e F4 Eb4 D4 Eb4 h G4 | w G4 | w G4 |"});
    CHECK(option(fits, "A:2", "cadential-six-four-minor").verdict.allowed());
}

TEST_CASE("a colour that the tune wrote itself is not the melody's", "[reharm]") {
    const std::string melody = "melody | h C5 Db5 | w Ab4 | w B4 | w C5 |";
    const auto written = testing::small_tune("C minor", "C7b9 | Fm7 | G7 | Cm7", {melody});
    const auto kept = option(written, "A:1", "rising-bass-dominant");
    CHECK(theory::to_string(kept.new_chords.back()) == "C7b9/E");
    CHECK(kept.verdict.melody.sentence == "The melody fits.");
    const auto plain = testing::small_tune("C minor", "C7 | Fm7 | G7 | Cm7", {melody});
    CHECK(option(plain, "A:1", "rising-bass-dominant").verdict.melody.sentence ==
          "The melody colours C7/E into C7b9/E.");
}
