// compiler/rules/chart.cpp: a bar that is played several times ends the chorus when one of its playings does.
#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

reharm::Option dim_before_home(const std::string& form) {
    const auto tune = testing::read_whole("tune \"Round\"\nkey C major\nmeter 4/4\ntempo 120\nform " + form +
                                          "\nsection A\nchanges | Cmaj7 | Dm7 | G7 | Cmaj7 |\n"
                                          "section B\nchanges | Fmaj7 | Fmaj7 | Em7 | A7 |\n");
    return testing::option_by(tune, "A:3", "leading-tone-dim", {});
}

}  // namespace

TEST_CASE("the last cadence of a section that is played again is the last one", "[reharm]") {
    for (const auto* form : {"B A", "A B A", "A A B A"}) {
        INFO(form);
        const auto option = dim_before_home(form);
        REQUIRE_FALSE(option.verdict.allowed());
        CHECK(option.verdict.refusals.front().sentence.find("last 4 bars of the chorus") !=
              std::string::npos);
    }
    CHECK(dim_before_home("A B").verdict.allowed());
}
