// compiler/reharm/reason.cpp: a reason speaks of what a player has before the eyes.
#include "reharm/reason.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/options.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

reharm::Option option(const std::string& changes, const std::string& at, const std::string& new_changes) {
    const auto tune = testing::small_tune("C major", changes);
    const auto options = testing::options_at(tune, at);
    const auto found = std::find_if(options.begin(), options.end(), [&](const auto& one) {
        std::string text;
        for (const auto& chord : one.new_chords) text += (text.empty() ? "" : " ") + theory::to_string(chord);
        return text == new_changes;
    });
    REQUIRE(found != options.end());
    return *found;
}

/// The words of a text that are chord symbols with more than a letter: "G7", "Db7#11", "Am7/D".
std::vector<theory::Chord> chords_in(const std::string& text) {
    std::vector<theory::Chord> chords;
    std::stringstream words(text);
    for (std::string word; words >> word;) {
        while (!word.empty() && std::string(".,:;)").find(word.back()) != std::string::npos) word.pop_back();
        if (word.size() < 3) continue;
        if (const auto chord = theory::parse_chord(word).chord) chords.push_back(*chord);
    }
    return chords;
}

bool same_root(const theory::Chord& a, const theory::Chord& b) {
    return theory::pitch_class(a.root) == theory::pitch_class(b.root);
}

/// Where what opens a reason ends: "A7 D7 (...) could stand there, and D7 does. Where Am7 (...) could stand,
/// "; 0 = none.
std::size_t end_of_opening(const std::string& reason) {
    std::size_t end = 0;
    for (const std::string_view close : {" does. ", " do. ", " could stand, ", "), "}) {
        const auto at = reason.rfind(close);
        if (at != std::string::npos) end = std::max(end, at + close.size());
    }
    return end;
}

}  // namespace

TEST_CASE("a step whose chord was replaced is named, not told", "[reharm]") {
    CHECK(
        option("Cmaj7 | Dm7 | G7 | Cmaj7", "A:2", "Ab7").reason ==
        "Where D7 (chord made dominant) could stand, Ab7 keeps F# and C of D7 and falls a half step to G7.");
    // Its chord stands: both are told.
    CHECK(option("Cmaj7 | Dm7 | G7 | Cmaj7", "A:2", "D7 Ab7").reason ==
          "D7 keeps the root and the seventh of Dm7 and becomes the dominant of G7. After D7 comes its "
          "substitute Ab7: F# and C stay, and Ab7 falls a half step to G7.");
}

TEST_CASE("what a step says of a dominant that is gone is not told", "[reharm]") {
    // "Dm7b5 G7b9 lead towards C minor" would name a chord that is not on the sheet.
    CHECK(option("Cmaj7 | Dm7 | G7 | Cmaj7 | Fmaj7", "A:2", "Dm7b5 Db7").reason ==
          "Dm7b5 G7b9 (minor ii-V into a major chord) could stand there, and Dm7b5 does. Db7 keeps B and F "
          "of G7b9 and falls a half step to Cmaj7.");
}

TEST_CASE("of several replaced steps those that are played are told apart", "[reharm]") {
    reharm::Wish wish;
    wish.depth = 3;
    const auto tune = testing::small_tune("C major", "Cmaj7 | Dm7 | G7 | Cmaj7 | Fmaj7 | Fmaj7 | Cmaj7 | C6");
    const auto options = testing::options_at(tune, "A:1", wish);
    const std::string told =
        "A7 D7 (two dominants in a row) could stand there, and D7 does. Where Am7 (relative minor in the "
        "second half) could stand, Eb7 keeps C# and G of A7 and falls a half step to D7.";
    CHECK(std::any_of(options.begin(), options.end(), [&](const auto& one) { return one.reason == told; }));
}

TEST_CASE("a move to a chord that no longer follows is not told", "[reharm]") {
    // "It rises a step to G7": F#dim7 comes in between.
    const auto text = option("Cm7 | Dm7b5 | G7b9 | Cm7", "A:2", "Fm6 F#dim7").reason;
    INFO(text);
    CHECK(text.rfind("With Fm6 (iv for ii in minor), F#dim7 fills", 0) == 0);
}

TEST_CASE("a stacked change is about its root, not about the colour on it", "[reharm]") {
    CHECK(option("Cmaj7 | Dm7 | G7 | Cmaj7", "A:3", "Db7#11").rule == "tritone");
    CHECK(option("Cmaj7 | Em7 | A7 | Dm7", "A:1", "Cmaj7 B7b9").rule == "secondary-dominant");
    // A ii that became a dominant is no ii.
    CHECK(option("Cmaj7 | A7 | Dm7 | G7 | Cmaj7", "A:2", "E7 A7").rule == "made-dominant");
    // Where there is nothing but colour, that is it.
    CHECK(option("Cmaj7 | Dm7 | Db7 | Cmaj7", "A:3", "Db7#11").rule == "sharp-eleven");
}

TEST_CASE("an option without chords of its own has no reason with holes in it", "[reharm]") {
    const auto tune =
        testing::small_tune("C major", "Cmaj7 Am7 | Dm7 G7 | Cmaj7 | Am7 | Dm7 | G7 | Cmaj7 | C6");
    int without = 0, with = 0;
    for (const auto* at : {"A:1", "A:2", "A:3", "A:4", "A:5", "A:6", "A:7", "A:8"}) {
        for (const auto& one : testing::options_at(tune, at)) {
            INFO(at << ' ' << one.rule << ": " << one.reason);
            CHECK(one.reason.empty() == one.new_chords.empty());
            CHECK(one.reason.find(" ,") == std::string::npos);
            CHECK(one.reason.find("  ") == std::string::npos);
            (one.new_chords.empty() ? without : with) += 1;
        }
    }
    CHECK(without > 0);
    CHECK(with > 100);
}

TEST_CASE("reasons of versions name chords that stand there, or say what they stand for", "[reharm]") {
    int looked_at = 0, detours = 0;
    for (const auto& file : std::filesystem::directory_iterator(RELEAD_SOURCE_DIR "/samples/tunes")) {
        if (file.path().extension() != ".tune") continue;
        std::ifstream stream(file.path());
        std::stringstream bytes;
        bytes << stream.rdbuf();
        const auto tune = testing::read_whole(bytes.str());
        for (const int outside : {2, 4}) {
            reharm::Wish wish;
            wish.outside = outside;
            wish.versions = 3;
            const auto outcome =
                reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
            REQUIRE(outcome.value.has_value());
            for (const auto& version : outcome.value->versions) {
                for (const auto& change : version.changes) {
                    // An opening may name chords that are gone; what follows may speak of them.
                    const auto rest = end_of_opening(change.reason);
                    const bool stands_for = rest > 0;
                    detours += stands_for ? 1 : 0;
                    INFO(file.path().stem() << ' ' << outside << ": " << change.reason);
                    auto there = change.old_chords;
                    there.insert(there.end(), change.new_chords.begin(), change.new_chords.end());
                    for (const auto& beside : {change.previous, change.next, change.goal}) {
                        if (beside) there.push_back(*beside);
                    }
                    for (const auto& chord : chords_in(change.reason.substr(0, rest))) there.push_back(chord);
                    for (const auto& named : chords_in(change.reason.substr(rest))) {
                        INFO(theory::to_string(named));
                        ++looked_at;
                        CHECK(std::any_of(there.begin(), there.end(),
                                          [&](const auto& chord) { return same_root(chord, named); }));
                    }
                }
            }
        }
    }
    CHECK(looked_at > 500);
    CHECK(detours > 10);
}
