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

std::vector<reharm::Version> versions_of(const std::string& name, int count) {
    std::ifstream stream(std::string(RELEAD_SOURCE_DIR "/samples/tunes/") + name + ".tune");
    std::stringstream bytes;
    bytes << stream.rdbuf();
    auto tune = testing::read_whole(bytes.str());
    tune.plans.clear();
    reharm::Wish wish;
    wish.versions = count;
    auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
    REQUIRE(outcome.value.has_value());
    return std::move(outcome.value->versions);
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
        REQUIRE(versions.size() == 3);
        INFO(name << ": " << beats_changed(versions[0]).to_string() << ", "
                  << beats_changed(versions[1]).to_string() << ", "
                  << beats_changed(versions[2]).to_string());
        CHECK(beats_changed(versions[0]) <= beats_changed(versions[1]));
        CHECK(beats_changed(versions[1]) <= beats_changed(versions[2]));
    }
}
