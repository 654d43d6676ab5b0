// compiler/reharm/judge.cpp: a new chord before one that is played early.
#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// Why the related ii of a substitute may not stand in the second half of bar 1, before `next`; "" when it
/// may.
std::string why_not(const std::string& next) {
    reharm::Wish wish;
    wish.outside = 3;
    const auto tune = testing::small_tune("C major", "F Db7 | " + next + " | F | C");
    const auto option = testing::option_by(tune, "A:1.3", "related-ii-of-substitute", wish);
    return option.verdict.allowed() ? "" : option.verdict.refusals.front().sentence;
}

}  // namespace

TEST_CASE("a chord played early leaves a beat to the new chord before it", "[reharm]") {
    CHECK(why_not("Cmaj7").empty());
    CHECK(why_not(">Cmaj7").empty());  // late
    CHECK(why_not("<Cmaj7") == "Cmaj7 comes early at A:2: less than a beat would be left for Db7#11.");
    CHECK(why_not("<<Cmaj7") == "Cmaj7 comes early at A:2: less than a beat would be left for Db7#11.");
}
