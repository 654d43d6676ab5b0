// What is stable about good versions, as a gate: few tunes, each for what it can show. bench_taste measures
// all of it over all tunes.
#include <algorithm>
#include <set>
#include <string>

#include "bench/trial.h"
#include "support/catch.h"

using namespace relead;
using namespace relead::bench;

namespace {

Piece sample(const std::string& name) {
    for (auto& piece : sample_pieces()) {
        if (piece.name == name) return piece;
    }
    FAIL("no sample tune " << name);
    return {};
}

/// "Moving lines under still chords" of "Moving lines under still chords: tonic pedal."; empty when the
/// sentence lists changes that have no idea in common.
std::string stated(const reharm::Version& version) {
    const auto colon = version.idea.find(':');
    return colon == std::string::npos ? "" : version.idea.substr(0, colon);
}

/// What holds for every version up to outside 3.
void check_each(const Trial& trial) {
    REQUIRE(trial.versions.size() == 3);
    for (const auto& one : trial.versions) {
        CAPTURE(trial.piece, trial.outside, one.version.idea);
        CHECK(one.measures.new_chords > 0);
        CHECK(one.measures.starts.value() == 1.0);
        CHECK(one.measures.cadence.value() == 1.0);
        CHECK(one.measures.clashes == 0);
        CHECK(one.measures.crowded == 0);
        CHECK(one.measures.parallels == 0);
        CHECK(one.measures.roots.value() >= 0.7);
        CHECK(one.measures.outer.value() >= std::min(0.6, one.measures.outer_written.value()));
        CHECK(one.largest_rule <= 0.5);
        CHECK(one.measures.dose <= one.most_dose + 0.02);
    }
    CHECK(trial.versions.front().measures.guides.value() >= 0.9);
    CHECK(trial.versions[0].measures.dose < trial.versions[2].measures.dose);
}

}  // namespace

TEST_CASE("Versions keep section starts, cadences and the melody, and no rule makes more than half of one") {
    check_each(try_piece(sample("ferry-at-first-light"), 2));
    check_each(try_piece(made_piece(Style::waltz, 1), 3));
}

TEST_CASE("Versions are smoother than random legal ones of the same dose, since the choice listens for it") {
    double whole = 0, deaf = 0;
    const auto mean_of = [](const Piece& piece, Hearing hearing) {
        constexpr int outside = 2, random_versions = 30;
        double sum = 0;
        const auto controls = hold_against_random(piece, outside, random_versions, 1, hearing);
        REQUIRE(controls.size() == 3);
        for (const auto& control : controls) sum += control.both / 3;
        return sum;
    };
    const std::vector<Piece> pieces = {sample("ferry-at-first-light"), made_piece(Style::major, 1),
                                       made_piece(Style::waltz, 1), made_piece(Style::minor, 1)};
    for (const auto& piece : pieces) {
        whole += mean_of(piece, Hearing::whole) / static_cast<double>(pieces.size());
        deaf += mean_of(piece, Hearing::deaf) / static_cast<double>(pieces.size());
    }
    CAPTURE(whole, deaf);
    CHECK(whole > 0.85);
    CHECK(whole > deaf);
}

TEST_CASE("Each version states one idea, and another one than those before it") {
    for (const auto& piece : {made_piece(Style::waltz, 1), made_piece(Style::major, 1)}) {
        const auto trial = try_piece(piece, 2);
        REQUIRE(trial.versions.size() == 3);
        std::set<std::string> ideas;
        for (const auto& one : trial.versions) {
            CAPTURE(trial.piece, one.version.idea);
            CHECK(!stated(one.version).empty());
            CHECK(ideas.insert(stated(one.version)).second);
        }
    }
}

TEST_CASE("A dense tune changes at most half as much, a fast one gets no third chord in a bar") {
    const auto dense = try_piece(made_piece(Style::dense, 1), 2);
    REQUIRE(dense.dense);
    REQUIRE(!dense.versions.empty());
    CHECK(dense.versions.front().measures.dose <= 0.25 / 2 + 0.02);
    // No version more than half of the most that any version may change.
    for (const auto& one : dense.versions) CHECK(one.measures.dose <= 0.60 / 2 + 0.02);
    const auto fast = try_piece(made_piece(Style::fast, 1), 2, 2);
    REQUIRE(!fast.versions.empty());
    for (const auto& one : fast.versions) CHECK(one.measures.crowded == 0);
}

TEST_CASE("A modal vamp takes no dominant substitutes") {
    const auto vamp = try_piece(made_piece(Style::vamp, 1), 5);
    for (const auto& one : vamp.versions) {
        for (const auto& change : one.version.changes) {
            CAPTURE(change.rule, change.place.section, change.place.bar);
            CHECK(change.family != "tritone");
            CHECK(change.family != "backdoor");
            CHECK(change.family != "substitute-chain");
        }
    }
}

TEST_CASE("A blues keeps its first and its fifth bar") {
    const auto piece = made_piece(Style::blues, 1);
    const auto written = play(piece.tune, piece.tune);
    const auto blues = try_piece(piece, 3);
    REQUIRE(!blues.versions.empty());
    for (const auto& one : blues.versions) {
        for (const std::size_t bar : {std::size_t{0}, std::size_t{4}}) {
            const auto at = written.bars.at(bar).bar.start;
            REQUIRE(written.at(at) != nullptr);
            REQUIRE(one.chorus.at(at) != nullptr);
            CAPTURE(one.version.idea, bar + 1, theory::to_string(one.chorus.at(at)->chord));
            CHECK(one.chorus.at(at)->chord.root == written.at(at)->chord.root);
        }
    }
}
