// compiler/rules/match.cpp with the built-in rules: where they fire, what they write, and why they do not.
#include "rules/match.h"

#include <algorithm>

#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

std::string symbols(const rules::Candidate& candidate) {
    std::string text;
    for (const auto& chord : candidate.chords) {
        text += (text.empty() ? "" : " ") + theory::to_string(chord.chord);
        text += "*" + (chord.length * Fraction(4)).to_string();
    }
    return text;
}

int index_of(const std::string& rule) {
    const auto& all = rules::built_in_rules().rules;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (all[i].name == rule) return static_cast<int>(i);
    }
    FAIL("no rule " << rule);
    return -1;
}

std::vector<std::string> fired(const std::string& rule, const tune::Tune& tune) {
    const auto reading = testing::plain_reading(tune);
    const auto chart = rules::make_chart(tune, reading);
    std::vector<std::string> all;
    for (const auto& match : rules::match_rule(rules::built_in_rules(), index_of(rule), chart))
        all.push_back(rules::place_name(chart, match.candidate.begin) + " " + symbols(match.candidate));
    return all;
}

/// The first objection where the rule's chords stand but it does not fit.
std::string objection(const std::string& rule, const tune::Tune& tune, const std::string& place) {
    const auto reading = testing::plain_reading(tune);
    const auto chart = rules::make_chart(tune, reading);
    for (const auto& match :
         rules::match_rule(rules::built_in_rules(), index_of(rule), chart, {rules::Audience::band, true})) {
        if (rules::place_name(chart, match.candidate.begin) != place) continue;
        return match.fits() ? "fits" : match.objections.front().sentence;
    }
    return "not found";
}

using Strings = std::vector<std::string>;

}  // namespace

// Pairs: apassion4jazz.net, Tritone (table of twelve keys). Practical spelling: no Cb7, Fb7 or double flats.
TEST_CASE("the twelve tritone substitutes", "[rules]") {
    struct Row {
        std::string key, dominant, target, substitute;
    };
    const Row rows[] = {
        {"F major", "C7", "Fmaj7", "Gb7"},   {"Bb major", "F7", "Bbmaj7", "B7"},
        {"Eb major", "Bb7", "Ebmaj7", "E7"}, {"Ab major", "Eb7", "Abmaj7", "A7"},
        {"Db major", "Ab7", "Dbmaj7", "D7"}, {"Gb major", "Db7", "Gbmaj7", "G7"},
        {"B major", "F#7", "Bmaj7", "C7"},   {"E major", "B7", "Emaj7", "F7"},
        {"A major", "E7", "Amaj7", "Bb7"},   {"D major", "A7", "Dmaj7", "Eb7"},
        {"G major", "D7", "Gmaj7", "Ab7"},   {"C major", "G7", "Cmaj7", "Db7"},
    };
    for (const auto& row : rows) {
        INFO(row.key);
        const auto tune =
            testing::small_tune(row.key, row.dominant + " | " + row.target + " | " + row.target);
        CHECK(fired("tritone", tune) == Strings{"A:1 " + row.substitute + "*4"});
    }
}

TEST_CASE("where the tritone substitute is wrong", "[rules]") {
    const auto blues =
        testing::small_tune("F blues", "F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | D7 | Gm7 | C7 | F7 | C7");
    CHECK(objection("tritone", blues, "A:1") ==
          "F7 does not lead to Bb: it is heard as a tonic of the blues.");
    CHECK(objection("tritone", blues, "A:4") == "fits");
    CHECK(objection("tritone", testing::small_tune("C major", "Fm7 | Bb7 | Cmaj7 | Cmaj7"), "A:2") ==
          "After Bb7 it needs a major chord, a minor chord or a dominant on Eb; Cmaj7 stands there.");
    CHECK(objection("tritone", testing::small_tune("C major", "Dm7 | G7 | Am7 | Am7"), "A:2") ==
          "After G7 it needs a major chord, a minor chord or a dominant on C; Am7 stands there.");
    CHECK(objection("tritone", testing::small_tune("C major", "Dm7 | G7sus4 | Cmaj7 | Cmaj7"), "A:2") ==
          "G7sus4 is a suspended chord; the rule needs a dominant with its third.");
    CHECK(objection("tritone", testing::small_tune("C major", "Cmaj7 | D7 | G7 | Fmaj7"), "A:3") ==
          "After G7 it needs a major chord, a minor chord or a dominant on C; Fmaj7 stands there.");
    CHECK(objection("tritone",
                    testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | Cmaj7", {"bass | . | w G2 | . | . |"}),
                    "A:2") == "A bass figure is written there.");
    CHECK(objection(
              "tritone",
              testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | Cmaj7", {"hits | . | q x r h X | . | . |"}),
              "A:2") == "The band has written hits there.");
}

// Backdoor progression, Wikipedia (C; E flat transposed).
TEST_CASE("the backdoor", "[rules]") {
    CHECK(fired("backdoor", testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | Cmaj7")) ==
          Strings{"A:1 Fm7*4 Bb7*4"});
    CHECK(fired("backdoor", testing::small_tune("Eb major", "Fm7 Bb7 | Ebmaj7")) ==
          Strings{"A:1 Abm7*2 Db7*2"});
    CHECK(fired("backdoor-dominant", testing::small_tune("C major", "Fmaj7 | G7 | Cmaj7")) ==
          Strings{"A:2 Bb7*4"});
    CHECK(objection("backdoor", testing::small_tune("C major", "Am7 | D7 | Gmaj7 | G7 | Cmaj7"), "A:1") ==
          "not found");
    CHECK(objection("backdoor", testing::small_tune("C minor", "Dm7b5 | G7 | Cm7 | Cm7"), "A:1") ==
          "After G7 it needs a major chord on C; Cm7 stands there.");
    CHECK(objection("backdoor",
                    testing::small_tune("C major", "Dm7 | G7 | Cmaj7", {"melody | w A4 | w B4 | w C5 |"}),
                    "A:1") == "The melody holds B there, the 7 of C.");
}

// Open Music Theory v2 (Lavengood), Embellishing Chords.
TEST_CASE("related iis", "[rules]") {
    CHECK(fired("related-ii", testing::small_tune("C major", "Cmaj7 | G7 | Cmaj7")) ==
          Strings{"A:2 Dm7*2 G7*2"});
    CHECK(fired("related-ii", testing::small_tune("C major", "Cmaj7 | C7 | Fmaj7 | G7sus4")) ==
          Strings{"A:2 Gm7*2 C7*2"});
    CHECK(fired("related-ii-minor", testing::small_tune("C major", "Cmaj7 | E7 | Am7 | Cmaj7")) ==
          Strings{"A:2 Bm7b5*2 E7*2"});
    CHECK(fired("related-ii-minor", testing::small_tune("C minor", "Cm | G7b9 | Cm | Cm")) ==
          Strings{"A:2 Dm7b5*2 G7b9*2"});
    CHECK(fired("related-ii-of-substitute", testing::small_tune("C major", "Cmaj7 | Db7 | Cmaj7")) ==
          Strings{"A:2 Abm7*2 Db7*2"});
    CHECK(objection("related-ii", testing::small_tune("C major", "Dm7 | G7 | Cmaj7"), "A:2") ==
          "G7 may not give way after Dm7: it needs another chord before it than a minor seventh on D.");
    CHECK(objection("related-ii", testing::small_tune("C major", "Cmaj7*3 G7 | Cmaj7"), "A:1.4") ==
          "G7 is too short: the rule needs at least 2 beats.");
}

TEST_CASE("shares snap to beats, the longer part first", "[rules]") {
    const auto waltz = testing::read_whole(
        "tune \"Three\"\nkey C major\nmeter 3/4\nform A\nsection A\nchanges | Cmaj7 | G7 | Cmaj7 |\n");
    CHECK(fired("related-ii", waltz) == Strings{"A:2 Dm7*2 G7*1"});
    const auto five = testing::read_whole(
        "tune \"Five\"\nkey C major\nmeter 5/4\nform A\nsection A\nchanges | Cmaj7 | G7 | Cmaj7 |\n");
    CHECK(fired("related-ii", five) == Strings{"A:2 Dm7*3 G7*2"});
}

TEST_CASE("in a meter of stated groups a new chord begins with a group", "[rules]") {
    const auto in = [](const std::string& meter, const std::string& changes) {
        return testing::read_whole("tune \"Odd\"\nkey C major\nmeter " + meter +
                                   "\nform A\nsection A\nchanges | " + changes + " |\n");
    };
    CHECK(fired("related-ii", in("5/4 3+2", "Cmaj7 | G7 | Cmaj7")) == Strings{"A:2 Dm7*3 G7*2"});
    CHECK(fired("related-ii", in("5/4 2+3", "Cmaj7 | G7 | Cmaj7")) == Strings{"A:2 Dm7*2 G7*3"});
    CHECK(fired("related-ii", in("7/8 2+2+3", "Cmaj7 | G7 | Cmaj7")) == Strings{"A:2 Dm7*2 G7*3/2"});
    // A quarter of five beats is none of its groups.
    CHECK(fired("half-step-approach-dominant", in("5/4 3+2", "Cmaj7 | G7 | Cmaj7")) ==
          Strings{"A:2 Ab7*3 G7*2"});
    // What a rule says in beats is its own word.
    const auto own = rules::read_rules(text::Source("own.rules",
                                                    "rule pickup\n  title \"Pickup\"\n  outside 2\n"
                                                    "  find V7\n  write same rest, bII7 1 beat\n"
                                                    "  why \"{new2} leads on.\"\n"));
    REQUIRE(own.value.has_value());
    const auto five = in("5/4 3+2", "Cmaj7 | G7 | Cmaj7");
    const auto chart = rules::make_chart(five, testing::plain_reading(five));
    const auto found = rules::match_rule(*own.value, 0, chart);
    REQUIRE(!found.empty());
    CHECK(symbols(found.front().candidate) == "G7*4 Db7*1");
    // Inside the second group there is no other beginning.
    CHECK(fired("related-ii", in("5/4 3+2", "Cmaj7 | Cmaj7*3 G7*2 | Cmaj7")).empty());
}

TEST_CASE("matches commute with transposition", "[rules]") {
    const auto tune = testing::small_tune("C major", "Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | E7 | Am7 D7 | G7 C7");
    const auto count = [](const tune::Tune& t) {
        const auto reading = testing::plain_reading(t);
        const auto chart = rules::make_chart(t, reading);
        std::vector<std::array<int, 4>> all;
        for (const auto& match : rules::match_all(rules::built_in_rules(), chart)) {
            for (const auto& chord : match.candidate.chords) {
                const int above = theory::pitch_class(chord.chord.root) - theory::pitch_class(t.key.tonic);
                all.push_back({match.candidate.rule, match.candidate.begin, (above + 12) % 12,
                               chord.chord.quality.row});
            }
        }
        return all;
    };
    const auto here = count(tune);
    CHECK(here.size() > 10);
    for (const int fifths : {-5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6}) {
        const auto there = tune::transpose_to(tune, theory::NoteName{fifths});
        INFO(theory::to_string(there.key));
        CHECK(count(there) == here);
    }
}
