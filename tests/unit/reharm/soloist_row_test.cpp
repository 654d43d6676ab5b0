// compiler/reharm/soloist_row.cpp: the band under what the author writes for the soloist.
#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// Why the ii-V inside a long dominant may not stand in bar 2 under `soloist`; "" when it may.
std::string why_not(const std::string& soloist) {
    reharm::Wish wish;
    wish.outside = 2;
    const auto tune = testing::small_tune("C major", "G7 | G7 | Cmaj7 | Cmaj7 | Fmaj7 | Fmaj7 | Cmaj7 | C6",
                                          {"soloist | . | " + soloist + " | . | . | . | . | . | . |"});
    const auto option = testing::option_by(tune, "A:1", "inner-two-five", wish);
    return option.verdict.allowed() ? "" : option.verdict.refusals.front().sentence;
}

}  // namespace

TEST_CASE("a change of the band has no less of what the soloist plays", "[reharm]") {
    // Dm7 shares nothing with G#m7, G7 its third: B.
    CHECK(why_not("G#m7 C#7") == "The tune has G#m7 for the soloist at A:2: Dm7 has less of it than G7.");
    CHECK(why_not("Dm7 G7").empty());
    CHECK(why_not(".").empty());
}
