// compiler/reharm/reharmonise.cpp: whole versions of small tunes.
#include "reharm/reharmonise.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>

#include "chosen.h"
#include "text/render.h"
#include "tune/transpose.h"

using namespace relead;
using testing::changes_of;
using testing::choose;
using testing::sample;
using testing::with_plan;

namespace {

std::string row_of(const tune::Tune& tune, bool soloist) {
    std::string text;
    for (const auto& bar : tune.sections.front().bars) {
        const auto& events = soloist ? bar.soloist.value_or(std::vector<tune::ChordEvent>{}) : bar.changes;
        for (const auto& event : events) text += theory::to_string(event.chord) + " ";
        text += "| ";
    }
    return text;
}

}  // namespace

TEST_CASE("one change with its reason", "[reharm]") {
    const auto tune = with_plan("  use tritone\n  at most 1 changes in each section\n");
    const auto outcome = choose(tune);
    REQUIRE(outcome.clean());
    const auto& version = outcome.value->versions.front();
    REQUIRE(version.changes.size() == 1);
    const auto row = report::change_table(version).front();
    CHECK(row.place == "A:4");
    CHECK(row.old_changes == "G7");
    CHECK(row.new_changes == "Db7");
    CHECK(row.rule == "Tritone substitute");
    CHECK(row.old_motion == "B held, F>E");
    CHECK(row.new_motion == "F>E, Cb=B");
    CHECK(row.reason == "Db7 keeps B and F of G7 and falls a half step to Cmaj7.");
    CHECK(row.melody == "Melody unknown: not checked.");
    CHECK(row_of(version.tune, false) == "Cmaj7 | A7 | Dm7 | Db7 | Cmaj7 | Cmaj7 | Dm7 | G7 | ");
    CHECK(version.stamp.hash.size() == 8);
    CHECK(version.tune.stamp->plan == "p");
    CHECK(version.idea == "Tritone substitute.");
    int sum = 0;
    for (const auto& term : version.changes.front().terms) sum += term.value;
    CHECK(sum == version.changes.front().cost);
}

TEST_CASE("a version about the same as an earlier one says where it differs", "[reharm]") {
    reharm::Wish wish;
    wish.versions = 2;
    const auto outcome = choose(with_plan("  use tritone\n  at most 1 changes in each section\n"), wish);
    REQUIRE(outcome.value.has_value());
    const auto& versions = outcome.value->versions;
    REQUIRE(versions.size() == 2);
    CHECK(changes_of(versions[0]) == "A:4 G7 > Db7\n");
    CHECK(changes_of(versions[1]) == "A:8 G7 > Db7\n");
    CHECK(versions[0].idea == "Tritone substitute.");
    CHECK(versions[1].idea == "Tritone substitute. Against p: new at A:8; without the change at A:4.");
    // Whoever holds a sheet must see which version it is, not only by whose plan.
    CHECK(versions[0].stamp.plan == "p");
    CHECK(versions[1].stamp.plan == "p 2");
    CHECK(versions[1].tune.stamp->plan == "p 2");
}

TEST_CASE("a plan that counts changes gets versions of one idea each too", "[reharm]") {
    const std::string changes =
        "Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7";
    reharm::Wish wish;
    wish.versions = 2;
    const auto outcome = choose(
        with_plan("  use tritone, related-ii\n  at most 6 changes in the tune\n", "band", changes), wish);
    REQUIRE(outcome.clean());
    REQUIRE(outcome.value->versions.size() == 2);
    std::vector<std::string> first_words;
    for (const auto& version : outcome.value->versions) {
        INFO(version.idea << "\n" << changes_of(version));
        std::map<std::string, std::size_t> uses;
        for (const auto& change : version.changes) ++uses[change.rule];
        CHECK(version.changes.size() > 4);
        CHECK(version.changes.size() <= 6);
        for (const auto& [rule, count] : uses) CHECK(count * 2 <= version.changes.size());
        first_words.push_back(version.idea.substr(0, version.idea.find(':')));
    }
    CHECK(first_words == std::vector<std::string>{"Dominants from a half step above", "More ii-Vs"});
}

/// Changes, one a line, in alphabetical order.
std::vector<std::string> lines_of(const std::string& changes) {
    std::vector<std::string> lines;
    std::istringstream text(changes);
    for (std::string line; std::getline(text, line);) lines.push_back(line);
    std::sort(lines.begin(), lines.end());
    return lines;
}

/// How many changes of version `number` begin where one of an earlier version does and have the same roots;
/// what the plan takes is not counted. Read from the changes alone.
std::pair<std::size_t, std::size_t> said_before(const std::vector<reharm::Version>& versions,
                                                std::size_t number) {
    const auto roots = [](const reharm::Change& change) {
        std::vector<int> found;
        for (const auto& chord : change.new_chords) {
            found.push_back(theory::pitch_class(chord.root));
            found.push_back(theory::pitch_class(theory::bass_of(chord)));
        }
        return found;
    };
    std::size_t all = 0, before = 0;
    for (const auto& change : versions[number].changes) {
        if (change.taken) continue;
        ++all;
        for (std::size_t v = 0; v < number; ++v) {
            const auto& earlier = versions[v].changes;
            if (std::any_of(earlier.begin(), earlier.end(), [&](const reharm::Change& other) {
                    return other.first == change.first && roots(other) == roots(change);
                })) {
                ++before;
                break;
            }
        }
    }
    return {before, all};
}

TEST_CASE("half of the changes of a version and more are not those of an earlier one", "[reharm]") {
    for (const auto* name : {"ferry-at-first-light", "slack-rope", "two-lighthouses"}) {
        const auto tune = sample(name);
        reharm::Wish wish;
        wish.versions = 3;
        const auto outcome =
            reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
        REQUIRE(outcome.value.has_value());
        const auto& versions = outcome.value->versions;
        REQUIRE(versions.size() == 3);
        for (std::size_t v = 1; v < versions.size(); ++v) {
            INFO(name << ": " << versions[v].idea << "\n" << changes_of(versions[v]));
            const auto [before, all] = said_before(versions, v);
            CHECK(all > 0);
            CHECK(before * 2 <= all);
        }
    }
}

TEST_CASE("a version is no earlier one with less or with one change more", "[reharm]") {
    std::size_t pairs = 0;
    for (const auto* name : {"ferry-at-first-light", "herring-shift", "net-menders-hymn", "slack-rope"}) {
        const auto tune = sample(name);
        for (const auto* family : {"tritone", "related-ii", "colour"}) {
            reharm::Wish wish;
            wish.versions = 4;
            wish.use = {family};
            const auto outcome =
                reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
            REQUIRE(outcome.value.has_value());
            const auto& versions = outcome.value->versions;
            for (std::size_t v = 1; v < versions.size(); ++v) {
                for (std::size_t earlier = 0; earlier < v; ++earlier) {
                    INFO(name << ": " << changes_of(versions[v]) << "beside\n"
                              << changes_of(versions[earlier]));
                    const auto now = lines_of(changes_of(versions[v]));
                    const auto before = lines_of(changes_of(versions[earlier]));
                    CHECK_FALSE(std::includes(before.begin(), before.end(), now.begin(), now.end()));
                    if (std::includes(now.begin(), now.end(), before.begin(), before.end()))
                        CHECK(now.size() > before.size() + 1);
                    ++pairs;
                }
            }
        }
    }
    CHECK(pairs > 8);
}

TEST_CASE("a plan with room for two changes makes two, what it takes beside them", "[reharm]") {
    // Half the bars hold a dominant: each version finds a second place.
    const auto changes =
        "Cmaj7 | A7 | Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Cmaj7 | C7 | Fmaj7 | Fm6 | Em7 | A7 | Dm7 | G7";
    for (const std::string take : {"", "  take tritone at A:2\n"}) {
        reharm::Wish wish;
        wish.versions = 3;
        const auto count = take.empty() ? "2" : "3";
        const auto outcome = choose(
            with_plan(take + "  outside 2\n  at most " + count + " changes in the tune\n", "band", changes),
            wish);
        REQUIRE(outcome.value.has_value());
        REQUIRE(outcome.value->versions.size() == 3);
        for (const auto& version : outcome.value->versions) {
            INFO(changes_of(version));
            CHECK(std::count_if(version.changes.begin(), version.changes.end(),
                                [](const reharm::Change& change) { return !change.taken; }) == 2);
        }
    }
}

TEST_CASE("the level that is wished for is what changes are near on average", "[reharm]") {
    for (const auto* name : {"two-lighthouses", "sea-lavender"}) {
        const auto tune = sample(name);
        for (int around = 1; around <= 4; ++around) {
            reharm::Wish wish;
            wish.outside = 5;
            wish.around = around;
            const auto outcome =
                reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
            REQUIRE(outcome.value.has_value());
            const auto& changes = outcome.value->versions.front().changes;
            REQUIRE(changes.size() > 3);
            double level = 0;
            for (const auto& change : changes)
                level += static_cast<double>(change.outside) / static_cast<double>(changes.size());
            INFO(name << " around " << around << ": " << level << "\n"
                      << changes_of(outcome.value->versions.front()));
            CHECK(std::abs(level - around) < 0.75);
        }
    }
}

TEST_CASE("what the plan takes is not what a version is about", "[reharm]") {
    reharm::Wish wish;
    wish.versions = 2;
    const auto outcome = choose(with_plan("  use tritone, related-ii\n  take tritone at A:4\n"
                                          "  at most 3 changes in the tune\n"),
                                wish);
    REQUIRE(outcome.clean());
    REQUIRE(outcome.value->versions.size() == 2);
    std::vector<std::string> first_words;
    for (const auto& version : outcome.value->versions) {
        INFO(changes_of(version));
        CHECK(std::count_if(version.changes.begin(), version.changes.end(),
                            [](const reharm::Change& change) { return change.taken; }) == 1);
        CHECK(changes_of(version).find("A:4 G7 > Db7") != std::string::npos);
        first_words.push_back(version.idea.substr(0, version.idea.find(':')));
    }
    CHECK(std::find(first_words.begin(), first_words.end(), "More ii-Vs") != first_words.end());
}

TEST_CASE("where a plan leaves one rule only it is used as often as the count allows", "[reharm]") {
    const auto outcome = choose(with_plan("  use tritone\n  at most 3 changes in the tune\n"));
    REQUIRE(outcome.clean());
    CHECK(outcome.value->versions.front().changes.size() == 3);
}

TEST_CASE("for a soloist the rhythm section keeps the written changes", "[reharm]") {
    const auto tune = with_plan("  use tritone\n  hold A:2, A:8\n", "soloist on solos");
    const auto outcome = choose(tune);
    REQUIRE(outcome.value.has_value());
    const auto& version = outcome.value->versions.front();
    CHECK(changes_of(version) == "A:4 G7 > Db7\n");
    CHECK(row_of(version.tune, false) == row_of(tune, false));
    CHECK(row_of(version.tune, true) == "| | | Db7 | | | | | ");
}

TEST_CASE("a chord lasts long enough to be played", "[reharm]") {
    // At 300 beats a minute two beats are 0.4 seconds.
    const auto fast = testing::read_whole(
        "tune \"Fast\"\nkey C major\nmeter 4/4\ntempo 300 swing\nform A\nsection A\n"
        "changes | Cmaj7 | G7 | Cmaj7 | Cmaj7 |\nplan \"p\" for band\n  use related-ii\n  take related-ii at "
        "A:2\n");
    const auto outcome = choose(fast);
    REQUIRE(outcome.diagnostics.size() == 1);
    CHECK(outcome.diagnostics.front().sentence ==
          "Related ii cannot stand at A:2: Dm7 would last 0.40 seconds: too short to play.");
}

TEST_CASE("each time different gives every playing a section of its own", "[reharm]") {
    const auto tune = testing::read_whole(
        "tune \"Twice\"\nkey C major\nmeter 4/4\nform A B A\nsection A\nchanges | Dm7 | G7 | Cmaj7 | A7 |\n"
        "section B\nchanges | Fmaj7 | E7 | Am7 | D7 |\nplan \"p\" for band\n  use tritone\n  each time "
        "different\n"
        "  at most 1 changes in the tune\n");
    const auto outcome = choose(tune);
    REQUIRE(outcome.value.has_value());
    const auto& version = outcome.value->versions.front().tune;
    REQUIRE(version.sections.size() == 3);
    CHECK(version.sections[0].name == "A1");
    CHECK(version.sections[1].name == "B");
    CHECK(version.sections[2].name == "A2");
    CHECK(outcome.value->versions.front().changes.size() == 1);
}

TEST_CASE("versions of the samples stay within their plans", "[reharm]") {
    for (const auto* name :
         {"ferry-at-first-light", "herring-shift", "sea-lavender", "gulls-over-the-glasshouse"}) {
        const auto tune = sample(name);
        const auto reading = analysis::analyse(tune);
        for (const auto& plan : tune.plans) {
            INFO(name << " " << plan.name);
            reharm::Wish wish;
            wish.plan = plan.name;
            const auto outcome = reharm::reharmonise(tune, reading, rules::built_in_rules(), wish);
            REQUIRE(outcome.value.has_value());
            const auto& version = outcome.value->versions.front();
            CHECK_FALSE(version.changes.empty());
            for (const auto& change : version.changes) {
                CHECK(change.outside <= plan.outside.value_or(5));
                CHECK_FALSE(change.reason.empty());
                CHECK(change.reason.find('{') == std::string::npos);
                CHECK_FALSE(change.melody.has_new_clash());
            }
            const auto again = reharm::reharmonise(tune, reading, rules::built_in_rules(), wish);
            CHECK(again.value->versions.front().stamp.hash == version.stamp.hash);
        }
    }
}

TEST_CASE("the twelve keys give the same version", "[reharm]") {
    const auto tune = sample("ferry-at-first-light");
    const auto choices = [](const tune::Tune& t) {
        std::vector<std::string> all;
        const auto outcome = choose(t);
        for (const auto& change : outcome.value->versions.front().changes)
            all.push_back(text::to_string(change.place) + " " + change.rule + " " +
                          std::to_string(change.cost));
        return all;
    };
    const auto here = choices(tune);
    for (const int fifths : {-6, -5, -4, -3, -2, 0, 1, 2, 3, 4, 5}) {
        const auto there = tune::transpose_to(tune, theory::NoteName{fifths});
        INFO(theory::to_string(there.key));
        CHECK(choices(there) == here);
    }
}
