// compiler/reharm/melody_refusals.cpp: notes that pass one by one and not together.
#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// Why the secondary dominant A7 may not stand in the second half of bar 2; "" when it may.
std::string why_not(const std::string& half_bar, const std::string& key = "C major") {
    reharm::Wish wish;
    wish.outside = 2;
    const auto tune = testing::small_tune(key, "Cmaj7 | Cmaj7 | Dm7 | G7",
                                          {"melody | w E4 | h G4 " + half_bar + " | w F4 | w F4 |"});
    const auto option = testing::option_by(tune, "A:2", "secondary-dominant", wish);
    return option.verdict.allowed() ? "" : option.verdict.refusals.front().sentence;
}

}  // namespace

TEST_CASE("fourth and minor third of a new dominant deny its third together", "[reharm]") {
    CHECK(why_not("q E4 e D4 C4") == "D and C both deny the third of A7.");
    CHECK(why_not("q E4 e D4 E4").empty());  // the fourth goes by
    CHECK(why_not("q E4 e E4 C4").empty());  // the minor third is a colour
}
