// compiler/reharm/detour.cpp: stacked changes that come back to the root that is written.
#include "reharm/detour.h"

#include <algorithm>

#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// The new chords of everything that is allowed at a place, two rules deep.
std::vector<std::string> offered(const std::string& key, const std::string& changes, const std::string& at) {
    std::vector<std::string> all;
    for (const auto& option : testing::options_at(testing::small_tune(key, changes), at)) {
        if (!option.verdict.allowed()) continue;
        std::string text;
        for (const auto& chord : option.new_chords)
            text += (text.empty() ? "" : " ") + theory::to_string(chord);
        all.push_back(text);
    }
    return all;
}

bool has(const std::vector<std::string>& all, const std::string& one) {
    return std::find(all.begin(), all.end(), one) != all.end();
}

}  // namespace

TEST_CASE("no change comes back to the written root by way of another one", "[reharm]") {
    const auto minor = offered("C minor", "Cm7 | Dm7b5 | G7b9 | Cm7", "A:2");
    CHECK(has(minor, "Fm6"));
    // By way of Fm6; D7 in place of Dm7b5 is the business of the rule that asks what the melody says to it.
    CHECK_FALSE(has(minor, "Fm6 D7"));
    CHECK(has(minor, "D7"));
}

TEST_CASE("another root at the end, or the written chord kept, is no way back", "[reharm]") {
    const auto major = offered("C major", "Cmaj7 | Dm7 | G7 | Cmaj7", "A:2");
    CHECK(has(major, "Ab7"));  // D7, then its substitute
    const auto dominant = offered("C major", "Cmaj7 | G7 | Cmaj7", "A:2");
    CHECK(has(dominant, "Dm7 G7"));
    CHECK(has(dominant, "D7 G7"));  // Dm7 G7, then a dominant of the ii; G7 was there all the time
}
