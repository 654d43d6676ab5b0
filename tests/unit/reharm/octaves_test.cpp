// compiler/reharm/octaves.cpp: a leading tone in the bass that the melody sings too.
#include <algorithm>

#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// Why `rule` may not stand in bar 2 of three; "" when it may.
std::string why_not(const std::string& changes, const std::string& melody, const std::string& rule,
                    const std::string& plan = "") {
    reharm::Wish wish;
    wish.outside = 2;
    // Bars beyond the fourth keep the cadence away from the end of the chorus.
    const auto more = std::count(changes.begin(), changes.end(), '|') + 1 - 4;
    auto row = "melody | w G4 | " + melody + " | w G4 |";
    for (auto bar = more; bar > 0; --bar) row += " w C5 |";
    const auto tune = testing::small_tune("C major", changes, {row}, plan);
    const auto option = testing::option_by(tune, "A:2", rule, wish);
    return option.verdict.allowed() ? "" : option.verdict.refusals.front().sentence;
}

constexpr auto octaves = "Melody and bass would both climb from B to C: octaves.";

}  // namespace

TEST_CASE("a leading tone that the melody has is not put into the bass", "[reharm]") {
    const std::string to_tonic = "Fmaj7 | G7 | Cmaj7 | Cmaj7 | Fmaj7 | Fmaj7 | Cmaj7 | Cmaj7";
    CHECK(why_not(to_tonic, "h F4 q D4 B4 | w C5", "leading-tone-dim") == octaves);
    CHECK(why_not(to_tonic, "h F4 q D4 B4 | e C5 D5 h. E5", "leading-tone-dim") == octaves);
    // Inside a change: the third of C7 in its second half, on the way to F.
    CHECK(why_not("Gm7 | C7 | Fmaj7 | Fmaj7", "h G4 q G4 e G4 E4 | w F4", "rising-bass-dominant") ==
          "Melody and bass would both climb from E to F: octaves.");
}

TEST_CASE("other tones, other moves and silence in between pass", "[reharm]") {
    const std::string to_tonic = "Fmaj7 | G7 | Cmaj7 | Cmaj7 | Fmaj7 | Fmaj7 | Cmaj7 | Cmaj7";
    CHECK(why_not(to_tonic, "h F4 q D4 F4 | w E4", "leading-tone-dim").empty());
    CHECK(why_not(to_tonic, "h F4 q D4 B4 | w E5", "leading-tone-dim").empty());
    CHECK(why_not(to_tonic, "q F4 B4 D4 r | w C5", "leading-tone-dim").empty());
    CHECK(why_not(to_tonic, "q F4 D4 B4 r | w C5", "leading-tone-dim").empty());
    CHECK(why_not(to_tonic, "h F4 D4 | q B4 h. C5", "leading-tone-dim").empty());
}

TEST_CASE("a plan that only warns of the melody lets octaves pass", "[reharm]") {
    CHECK(why_not("Fmaj7 | G7 | Cmaj7 | Cmaj7 | Fmaj7 | Fmaj7 | Cmaj7 | Cmaj7", "h F4 q D4 B4 | w C5",
                  "leading-tone-dim", "plan \"p\" for band\n  melody warn\n")
              .empty());
}
