// compiler/reharm/judge.cpp: a held flat ninth over a dominant that does not fall a fifth.
#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// What `rule` would write in bar 2, and why not.
reharm::Option option(const tune::Tune& tune, const std::string& rule, int outside) {
    reharm::Wish wish;
    wish.outside = outside;
    return testing::option_by(tune, "A:2", rule, wish);
}

tune::Tune with_melody(const std::string& melody, const std::string& after = "Cmaj7",
                       const std::string& plan = "") {
    return testing::small_tune("C major", "Dm7 | G7 | " + after + " | " + after,
                               {"melody | w F4 | " + melody + " | w G4 | w G4 |"}, plan);
}

}  // namespace

TEST_CASE("a held flat ninth keeps a substitute away up to level 3", "[reharm]") {
    const auto tune = with_melody("h D5 B4");
    for (const int outside : {2, 3}) {
        const auto refused = option(tune, "tritone", outside);
        REQUIRE(refused.verdict.refusals.size() == 1);
        CHECK(refused.verdict.refusals.front().sentence ==
              "D is the b9 of Db7b9, which does not fall a fifth: it rubs against the root.");
    }
    for (const int outside : {4, 5}) {
        const auto allowed = option(tune, "tritone", outside);
        CHECK(allowed.verdict.allowed());
        CHECK(theory::to_string(allowed.new_chords.front()) == "Db7b9");
    }
}

TEST_CASE("a plan that only warns of the melody lets a flat ninth pass", "[reharm]") {
    const auto tune = with_melody("h D5 B4", "Cmaj7", "plan \"p\" for band\n  melody warn\n");
    const auto warned = option(tune, "tritone", 2);
    CHECK(warned.verdict.allowed());
    CHECK(warned.verdict.melody.sentence == "The melody colours Db7 into Db7b9.");
}

TEST_CASE("what is short, what falls a fifth and other colours stay", "[reharm]") {
    CHECK(option(with_melody("e E5 D5 E5 F5 h F5"), "tritone", 2).verdict.allowed());
    CHECK(option(with_melody("h E5 B4"), "tritone", 2).verdict.allowed());  // #9
    // Ab, the flat ninth of G7, which falls a fifth.
    CHECK(option(with_melody("h Ab4 B4", "Cm7"), "dark-dominant", 2).verdict.allowed());
}

TEST_CASE("a melody with a flat ninth that rubs is not said to fit", "[reharm]") {
    const std::string rub = "D is the b9 of Db7, which does not fall a fifth: it rubs against the root.";
    const auto option_under = [&](const std::string& melody) {
        return option(with_melody(melody), "tritone", 4).verdict.melody.sentence;
    };
    CHECK(option_under("e D5 F5 q Ab4 h F4") == rub);
    CHECK(option_under("h F5 B4") == "The melody fits.");
}
