// compiler/reharm/versions_ahead.cpp: versions that are chosen together.
#include <algorithm>
#include <fstream>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

Outcome<reharm::Choices> choices_of(const std::string& name, int count, int outside = 2) {
    std::ifstream stream(std::string(RELEAD_SOURCE_DIR "/samples/tunes/") + name + ".tune");
    std::stringstream bytes;
    bytes << stream.rdbuf();
    auto tune = testing::read_whole(bytes.str());
    tune.plans.clear();
    reharm::Wish wish;
    wish.versions = count;
    wish.outside = outside;
    auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
    REQUIRE(outcome.value.has_value());
    return outcome;
}

std::vector<reharm::Version> versions_of(const std::string& name, int count) {
    return choices_of(name, count).value->versions;
}

/// Beats of one chorus that sound with other chords than written.
Beats beats_changed(const reharm::Version& version) {
    const auto& form = version.tune.order.form;
    Beats sum = 0;
    for (const auto& change : version.changes) {
        const auto plays = std::count(form.begin(), form.end(), change.first.section);
        for (std::size_t i = 0; i < change.new_chords.size(); ++i) {
            const auto& old = change.old_chords;
            if (std::find(old.begin(), old.end(), change.new_chords[i]) == old.end())
                sum += change.new_beats[i] * Beats(plays);
        }
    }
    return sum;
}

}  // namespace

TEST_CASE("how many versions are asked for changes none of them", "[reharm]") {
    for (const auto* name : {"fog-signal", "slack-rope"}) {
        const auto four = versions_of(name, 4);
        REQUIRE(four.size() == 4);
        for (const int count : {1, 2, 3}) {
            const auto fewer = versions_of(name, count);
            REQUIRE(fewer.size() == static_cast<std::size_t>(count));
            for (std::size_t v = 0; v < fewer.size(); ++v) {
                INFO(name << ", version " << v + 1 << " of " << count);
                CHECK(fewer[v].stamp.hash == four[v].stamp.hash);
                CHECK(fewer[v].idea == four[v].idea);
            }
        }
    }
}

// Tunes with little room: chosen one by one, the first version took what there was.
TEST_CASE("later versions change more", "[reharm]") {
    for (const auto* name : {"ballast", "nine-steps-down"}) {
        const auto versions = versions_of(name, 3);
        REQUIRE(versions.size() >= 2);
        for (std::size_t v = 1; v < versions.size(); ++v) {
            INFO(name << ", version " << v + 1);
            CHECK(beats_changed(versions[v - 1]) <= beats_changed(versions[v]));
        }
    }
}

TEST_CASE("a version that is nearly an earlier one is none, and the player is told", "[reharm]") {
    // Others that are legal there sound otherwise for less than a beat in twenty.
    const auto choices = choices_of("sluice-gate", 3, 1);
    CHECK(choices.value->versions.size() == 1);
    REQUIRE(choices.diagnostics.size() == 1);
    CHECK(choices.diagnostics.front().code == "fewer-versions");
    CHECK(choices.diagnostics.front().sentence ==
          "There is room for 1 version, not 3: another one would be nearly the same.");
    CHECK(choices_of("sluice-gate", 1, 1).diagnostics.empty());
}
