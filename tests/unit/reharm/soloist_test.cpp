// What a plan for a soloist or for solos changes in the verdicts: superimposed chords are heard against the
// bass that stays, a moved bass is nothing, and on solos nobody plays the melody. Degrees over the bass from
// the chords' spelled tones; what rubs is common practice, no source.
#include "reharm/plan_binding.h"
#include "reharm/reharmonise.h"
#include "reharm/sounding_bass.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

theory::Chord chord(const std::string& symbol) {
    const auto reading = theory::parse_chord(symbol);
    INFO(symbol);
    REQUIRE(reading.chord.has_value());
    return *reading.chord;
}

reharm::SoundingVerdict over(const std::string& sounding, const std::string& superimposed) {
    return reharm::against_the_bass({{chord(sounding), 0, Time(1)}}, {{chord(superimposed), 0, Time(1)}}, {});
}

int term(const reharm::Verdict& verdict, const std::string& name) {
    for (const auto& one : verdict.terms) {
        if (one.name == name) return one.value;
    }
    return 0;
}

/// The first option there by `rule` alone.
reharm::Option option_by(const std::string& rule, const std::string& plan, const std::string& at = "A:2",
                         const std::vector<std::string>& rows = {},
                         const std::string& changes = "Dm7 | G7 | Cmaj7 | Cmaj7") {
    const auto tune = testing::small_tune("C major", changes, rows, plan);
    const auto reading = testing::plain_reading(tune);
    auto outcome = reharm::options(tune, reading, rules::built_in_rules(), *tune::parse_address(at));
    REQUIRE(outcome.value.has_value());
    for (auto& option : *outcome.value) {
        if (option.rule == rule && term(option.verdict, "stacked") == 0) return std::move(option);
    }
    FAIL("no option by " << rule);
    return {};
}

}  // namespace

TEST_CASE("superimposed chords over the bass that stays", "[soloist]") {
    struct Row {
        std::string sounding, superimposed;
        int rubs;
        std::string sentence;
    };
    const std::vector<Row> rows = {
        {"G7", "Db7", 0, "Db7 over G7: F is the b7, Cb the 3; nothing rubs against the bass."},
        {"Cmaj7", "Em7", 0, "Em7 over Cmaj7: G is the 5, D the 9; nothing rubs against the bass."},
        {"G7", "Dm7", 1, "Dm7 over G7: C is the 11: it rubs and goes by."},
        {"G7", "Abm7", 1, "Abm7 over G7: Gb is the 7: it rubs and goes by."},
        {"Cmaj7", "Abmaj7", 2, "Abmaj7 over Cmaj7: Ab is the b13, Eb the #9: they rub."},
        {"Dm7", "Ebm7", 4, "Ebm7 over Dm7: Eb is the b9, Gb the 3, Bb the b13, Db the 7: they rub."},
        {"N.C.", "Db7", 0, ""},
    };
    for (const auto& row : rows) {
        const auto verdict = over(row.sounding, row.superimposed);
        CHECK(verdict.rubs == row.rubs);
        CHECK(verdict.sentence == row.sentence);
    }
    // The bass counts, not only the root: Eb is a colour of G7, a half step over its D in the bass it is
    // none.
    CHECK(over("G7", "Ebmaj7").rubs == 0);
    CHECK(over("G7/D", "Ebmaj7").rubs == 1);
    CHECK(over("G7/D", "Ebmaj7").sentence == "Ebmaj7 over G7/D: Eb is the b13: it rubs and goes by.");
    CHECK(reharm::level_of_rubs(1) == 1);
    CHECK(reharm::level_of_rubs(2) == 3);
    CHECK(reharm::level_of_rubs(4) == 4);
}

TEST_CASE("what rubs against the sounding bass is further outside", "[soloist]") {
    const auto substitute = option_by("tritone", "plan \"s\" for soloist\n");
    CHECK(substitute.verdict.allowed());
    CHECK(substitute.outside == 2);
    CHECK(substitute.verdict.sounding ==
          "Db7 over G7: F is the b7, Cb the 3; nothing rubs against the bass.");
    CHECK(term(substitute.verdict, "rub") == 0);

    // A level 2 for a band; over a sounding Dm7 its Ab and Eb rub.
    const auto plain = option_by("backdoor", "plan \"b\" for band\n  outside 2\n", "A:1");
    CHECK(plain.verdict.allowed());
    CHECK(plain.verdict.sounding.empty());
    CHECK(plain.outside == 2);
    const auto refused = option_by("backdoor", "plan \"s\" for soloist\n  outside 2\n", "A:1");
    REQUIRE_FALSE(refused.verdict.allowed());
    CHECK(refused.verdict.refusals.front().kind == reharm::Refusal::Kind::soloist);
    CHECK(refused.verdict.refusals.front().sentence ==
          "Superimposed it leads further outside (3) than the plan allows (2). Fm7 over Dm7: Ab is the #11, "
          "Eb the "
          "b9: they rub.");
    const auto allowed = option_by("backdoor", "plan \"s\" for soloist\n  outside 3\n", "A:1");
    CHECK(allowed.verdict.allowed());
    CHECK(allowed.outside == 3);
    CHECK(term(allowed.verdict, "rub") > 0);
}

TEST_CASE("a soloist moves no bass", "[soloist]") {
    const auto by = [](const std::string& who) {
        return option_by("rising-bass", "plan \"p\" for " + who + "\n  depth 1\n", "A:1", {},
                         "Cmaj7 | Fmaj7 | G7 | Cmaj7");
    };
    CHECK(by("band").verdict.allowed());
    const auto option = by("soloist");
    REQUIRE_FALSE(option.verdict.allowed());
    CHECK(option.verdict.refusals.front().sentence ==
          "It only moves the bass, which stays on the written changes.");
}

TEST_CASE("on solos nobody plays the melody", "[soloist]") {
    const std::vector<std::string> melody{"melody | w F4 | h C5 h B4 | w B4 | w r |"};
    for (const auto* who : {"band", "soloist"}) {
        for (const auto* where : {"head", "all"}) {
            const auto plan = std::string("plan \"p\" for ") + who + " on " + where + "\n";
            INFO(plan);
            CHECK_FALSE(option_by("tritone", plan, "A:2", melody).verdict.allowed());
        }
        const auto option =
            option_by("tritone", std::string("plan \"p\" for ") + who + " on solos\n", "A:2", melody);
        INFO(who);
        CHECK(option.verdict.allowed());
        CHECK(option.verdict.melody.sentence == "Nobody plays the melody on solos: not checked.");
        CHECK(term(option.verdict, "melody-unknown") == 0);
    }
}

TEST_CASE("a soloist's chords last longer than a band's", "[soloist]") {
    const auto at_tempo = [](const std::string& who, const std::string& tempo, const std::string& more = "") {
        const auto tune = testing::read_whole(
            "tune \"Fast\"\nkey C major\nmeter 4/4\ntempo " + tempo +
            "\nform A\nsection A\nchanges | Cmaj7 | G7 | Cmaj7 | Cmaj7 |\nplan \"p\" for " + who + "\n" +
            more);
        const auto reading = testing::plain_reading(tune);
        auto outcome = reharm::options(tune, reading, rules::built_in_rules(), *tune::parse_address("A:2"));
        REQUIRE(outcome.value.has_value());
        for (const auto& option : *outcome.value) {
            if (option.rule == "related-ii") return option.verdict.allowed();
        }
        return false;
    };
    // Two beats: 0.6 seconds at 200, 0.8 at 150, 0.5 at 240.
    CHECK(at_tempo("band", "240"));
    CHECK_FALSE(at_tempo("band", "241"));
    CHECK(at_tempo("soloist", "150"));
    CHECK_FALSE(at_tempo("soloist", "151"));
    CHECK_FALSE(at_tempo("soloist", "200"));
    CHECK(at_tempo("soloist", "200", "  chords last at least 0.6 s\n"));
    CHECK_FALSE(at_tempo("band", "200", "  chords last at least 0.7 s\n"));
}
