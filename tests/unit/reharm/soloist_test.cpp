// What a plan for a soloist or for solos changes in the verdicts: superimposed chords are heard against the
// bass that stays, a moved bass is nothing, and on solos nobody plays the melody. Degrees over the bass from
// the chords' spelled tones; what rubs is common practice, no source.
#include "reharm/plan_binding.h"
#include "reharm/reharmonise.h"
#include "reharm/sounding_bass.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/options.h"
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
                         const std::string& changes = "Dm7 | G7 | Cmaj7 | Cmaj7",
                         const std::string& key = "C major") {
    const auto tune = testing::small_tune(key, changes, rows, plan);
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
        {"G7", "Db7", 0, "Db7 over G7: new are Db (#11) and Ab (b9); F and B stay."},
        {"G7", "G7alt", 0,
         "G7alt over G7: new are Db (#11), Ab (b9), A# (#9) and Eb (b13); G, B and F stay."},
        {"Cmaj7", "Em7", 0, "Em7 over Cmaj7: new is D (9); E, G and B stay."},
        {"F#m7b5", "Am6", 0, ""},
        {"G7", "Dm7", 1, "Dm7 over G7: new are A (9) and C (11); D and F stay. C rubs on B: keep it short."},
        {"G7", "Abm7", 1,
         "Abm7 over G7: new are Ab (b9), Eb (b13) and Gb (maj7); B stays. Gb rubs on F: keep it short."},
        {"Cmaj7", "Abmaj7", 2,
         "Abmaj7 over Cmaj7: new are Ab (b13) and Eb (#9); C and G stay. Ab rubs on G and Eb on E: keep "
         "them short."},
        // Over a minor third it is the flat fifth, beside the fifth itself.
        {"Am7", "Ebm6", 2,
         "Ebm6 over Am7: new are Eb (b5), Gb (13) and Bb (b9); C stays. Eb rubs on E and Bb on A: keep "
         "them short."},
        {"Dm7", "Ebm7", 4,
         "Ebm7 over Dm7: new are Eb (b9), Gb (3), Bb (b13) and Db (maj7). Eb rubs on D, Gb on F, Bb on A and "
         "Db "
         "on C: keep them short."},
        {"C/E", "F#7", 2,
         "F#7 over C/E: new are F# (#11), A# (b7) and C# (b9); E stays. C# rubs on C: keep it short."},
        // A flat ninth rubs on the natural one that sounds, not on the root; double flats are read plain.
        {"C9", "Gb7", 1,
         "Gb7 over C9: new are Gb (#11) and Db (b9); Bb and E stay. Db rubs on D: keep it short."},
        {"E7b9", "Bbdim7", 0, "Bbdim7 over E7b9: new are Bb (#11), Db (13) and G (#9); E stays."},
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
    CHECK(over("G7/D", "Ebmaj7").sentence ==
          "Ebmaj7 over G7/D: new are Eb (b13) and Bb (#9); G and D stay. Eb rubs on D: keep it short.");
    // What is of the key, a soloist plays over the written chord already.
    CHECK(over("Cmaj7", "Em7").little_new);
    CHECK(over("G7", "G7alt").little_new);
    CHECK_FALSE(over("G7", "Db7").little_new);
    CHECK(reharm::level_of_rubs(1) == 1);
    CHECK(reharm::level_of_rubs(2) == 3);
    CHECK(reharm::level_of_rubs(4) == 4);
}

TEST_CASE("what rubs against the sounding bass is further outside", "[soloist]") {
    const auto substitute = option_by("tritone", "plan \"s\" for soloist\n");
    CHECK(substitute.verdict.allowed());
    CHECK(substitute.outside == 2);
    CHECK(substitute.verdict.sounding == "Db7 over G7: new are Db (#11) and Ab (b9); F and B stay.");
    CHECK(term(substitute.verdict, "rub") == 0);
    CHECK(term(substitute.verdict, "little-new") == 0);
    const auto colour =
        option_by("dark-dominant", "plan \"s\" for soloist\n", "A:2", {}, "Dm7b5 | G7 | Cm7 | Cm7");
    CHECK(term(colour.verdict, "little-new") > 0);

    // A level 2 for a band; over a sounding Dm7 its Ab and Eb rub.
    const auto plain = option_by("backdoor", "plan \"b\" for band\n  outside 2\n", "A:1");
    CHECK(plain.verdict.allowed());
    CHECK(plain.verdict.sounding.empty());
    CHECK(plain.outside == 2);
    const auto refused = option_by("backdoor", "plan \"s\" for soloist\n  outside 2\n", "A:1");
    REQUIRE_FALSE(refused.verdict.allowed());
    CHECK(refused.verdict.refusals.front().kind == reharm::Refusal::Kind::soloist);
    CHECK(refused.verdict.refusals.front().sentence ==
          "Superimposed it leads further outside (3) than is allowed (2). Fm7 over Dm7: new are Ab (b5) "
          "and Eb (b9); F and C stay. Ab rubs on A and Eb on D: keep them short. Bb7 over G7: new are Bb "
          "(#9) and Ab (b9); D and F stay.");
    const auto allowed = option_by("backdoor", "plan \"s\" for soloist\n  outside 3\n", "A:1", {},
                                   "Dm7 G7 | Cmaj7 | Fmaj7 | Cmaj7");
    CHECK(allowed.verdict.allowed());
    CHECK(allowed.outside == 3);
    CHECK(term(allowed.verdict, "rub") > 0);
}

TEST_CASE("a superimposed chord that rubs does not last", "[soloist]") {
    // A7 over Am7 has C# alone to say, a half step over C: a leading tone, no bar of its own.
    using Rubbing = reharm::SoundingVerdict::Rubbing;
    CHECK(reharm::longest_rub(Rubbing{1, 1, {}}) == 1.1);
    CHECK(reharm::longest_rub(Rubbing{2, 4, {}}) == 2.0);
    CHECK_FALSE(reharm::longest_rub(Rubbing{0, 3, {}}));
    CHECK_FALSE(reharm::longest_rub(Rubbing{1, 3, {}}));
    // Over two chords the stricter one counts, whichever comes first: A7 has but C# over Am7, three tones
    // over G7.
    for (const bool turned : {false, true}) {
        const reharm::TimedChord minor{chord("Am7"), turned ? Time(1) : Time(0), Time(1)};
        const reharm::TimedChord dominant{chord("G7"), turned ? Time(0) : Time(1), Time(1)};
        const auto verdict = reharm::against_the_bass({minor, dominant}, {{chord("A7"), 0, Time(2)}}, {});
        REQUIRE(verdict.rubbing.size() == 1);
        CHECK(verdict.rubbing.front().rubs == verdict.rubbing.front().fresh);
        CHECK(verdict.rubbing.front().length == Time(1));
    }
    const auto long_rub = option_by("made-dominant", "plan \"s\" for soloist\n  outside 3\n", "A:1", {},
                                    "Am7 | D7 | Gmaj7 | Cmaj7");
    REQUIRE_FALSE(long_rub.verdict.allowed());
    CHECK(long_rub.verdict.refusals.front().sentence ==
          "For 2.00 seconds A7 would rub on what the band plays: too long to pass through.");
    const auto short_one = option_by("made-dominant", "plan \"s\" for soloist\n  outside 3\n", "A:1", {},
                                     "Am7 D7 | Gmaj7 | Cmaj7 | Fmaj7");
    CHECK(short_one.verdict.allowed());
    // Far outside is asked for.
    CHECK(option_by("made-dominant", "plan \"s\" for soloist\n  outside 4\n", "A:1", {},
                    "Am7 | D7 | Gmaj7 | Cmaj7")
              .verdict.allowed());
}

TEST_CASE("a soloist is told where the new notes go, not what the band does not do", "[soloist]") {
    const std::string plan = "plan \"s\" for soloist\n  outside 3\n";
    CHECK(option_by("tritone", plan).reason == "Db7 leads to Cmaj7: Db falls to C and Ab to G.");
    // "A dominant's place without a dominant's pull": the band plays the dominant.
    CHECK(option_by("flat-two-major", plan).reason ==
          "Dbmaj7 leads to Cmaj7: Db falls to C, Ab to G and C stays.");
    CHECK(option_by("related-ii", plan, "A:2", {}, "C6 | G7 | C6 | C6").reason ==
          "Dm7 leads to G7: A falls to G and C to B.");
    // What follows is what the author wrote for the soloist.
    const auto tune = testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | Cmaj7 | Fmaj7 | Fmaj7 | Cmaj7 | C6",
                                          {"soloist | . | . | Em7 | . | . | . | . | . |"}, plan);
    CHECK(testing::option_by(tune, "A:2", "tritone").reason ==
          "Db7 leads to Em7: Ab falls to G and Db rises to D.");
    CHECK(option_by("tritone", "plan \"b\" for band\n").reason ==
          "Db7 keeps B and F of G7 and falls a half step to Cmaj7.");
}

TEST_CASE("a soloist moves no bass and gives no chord another name", "[soloist]") {
    // The built-in rules of the bass are for the band; a user's rule may forget to say so.
    const auto source = *text::read_source("own.rules", R"(rule own-bass
  title    "Third in the bass"
  family   moving-bass
  outside  1
  find     1:maj at least 4 beats
  before   4:maj
  write    same 1/2, I/3 1/2
  why      "The bass climbs."
  source   common practice
)")
                             .value;
    const auto rules = *rules::read_rules(source).value;
    const auto first = [&](const std::string& rule, const std::string& changes, const std::string& who) {
        const auto tune =
            testing::small_tune("C major", changes, {}, "plan \"p\" for " + who + "\n  depth 1\n");
        const auto reading = testing::plain_reading(tune);
        const auto outcome = reharm::options(tune, reading, rules, *tune::parse_address("A:1"));
        REQUIRE(outcome.value.has_value());
        for (const auto& option : *outcome.value) {
            if (option.rule == rule) return option.verdict;
        }
        FAIL("no option by " << rule);
        return reharm::Verdict{};
    };
    CHECK(first("own-bass", "Cmaj7 | Fmaj7 | G7 | Cmaj7", "band").allowed());
    CHECK(first("own-bass", "Cmaj7 | Fmaj7 | G7 | Cmaj7", "soloist").refusals.front().sentence ==
          "It only moves the bass, which stays on the written changes.");
    const auto six = [](const std::string& who) {
        return option_by("four-for-two-minor", "plan \"p\" for " + who + "\n  depth 1\n", "A:1", {},
                         "Dm7b5 | G7b9 | Cm7 | Cm7", "C minor");
    };
    CHECK(six("band").verdict.allowed());
    REQUIRE_FALSE(six("soloist").verdict.allowed());
    CHECK(six("soloist").verdict.refusals.front().sentence ==
          "It brings no note that Dm7b5 has not: a soloist gains nothing.");
}

TEST_CASE("what is written for the soloist stays", "[soloist]") {
    const std::vector<std::string> rows{"soloist | . | Ab7 Db7 | . | . |"};
    const auto option = option_by("tritone", "plan \"s\" for soloist\n", "A:2", rows);
    REQUIRE_FALSE(option.verdict.allowed());
    CHECK(option.verdict.refusals.front().sentence == "What the soloist plays at A:2 is written there.");
    CHECK(option_by("tritone", "plan \"b\" for band\n", "A:2", rows).verdict.allowed());
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
