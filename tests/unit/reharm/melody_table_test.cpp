// Melody verdicts row by row, each with its source; the rows of sus chords and of the blues; what the plan
// makes of a clash; what is not known.
#include "reharm/judge.h"
#include "reharm/melody_fit.h"
#include "reharm/reharmonise.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;
using reharm::NoteFit;

namespace {

theory::Chord chord(const std::string& word) {
    return *theory::parse_chord(word).chord;
}

NoteFit fit_of(const std::string& now, const std::string& note, const std::string& key) {
    const auto tune = testing::small_tune(key, "N.C.", {"melody | w " + note + " |"});
    const auto verdict = reharm::judge_melody(tune, rules::Melodies(tune), 0, tune.key,
                                              {{chord("N.C."), 0, Time(1)}}, {{chord(now), 0, Time(1)}});
    REQUIRE(verdict.notes.size() == 1);
    return verdict.notes.front().fit;
}

const reharm::Option* find(const std::vector<reharm::Option>& options, const std::string& rule) {
    for (const auto& option : options) {
        if (option.rule == rule) return &option;
    }
    return nullptr;
}

/// What the backdoor dominant is worth for G7 in C under a melody.
reharm::Option backdoor_under(const std::string& note, const std::string& plan) {
    const auto tune =
        testing::small_tune("C major", "Fmaj7 | G7 | Cmaj7 | Cmaj7",
                            {"melody | w A4 | " + note + " | w G4 | w E4 |"}, "plan \"p\" for band\n" + plan);
    auto outcome = reharm::options(tune, testing::plain_reading(tune), rules::built_in_rules(),
                                   *tune::parse_address("A:2"));
    REQUIRE(outcome.value);
    const auto* option = find(*outcome.value, "backdoor-dominant");
    REQUIRE(option != nullptr);
    return *option;
}

bool refuses_for_melody(const reharm::Verdict& verdict) {
    for (const auto& refusal : verdict.refusals) {
        if (refusal.kind == reharm::Refusal::Kind::melody) return true;
    }
    return false;
}

int term(const reharm::Verdict& verdict, const std::string& name) {
    int sum = 0;
    for (const auto& one : verdict.terms) sum += one.name == name ? one.value : 0;
    return sum;
}

}  // namespace

TEST_CASE("held notes by the kind of chord, row by row", "[melody]") {
    struct Row {
        const char *now, *key, *note;
        NoteFit fit;
        const char* source;
    };
    const char* const avoid = "Avoid note, Wikipedia: a half step above a chord tone is avoided";
    const char* const practice = "common practice, no source";
    const char* const memory = "from memory";
    const Row row = GENERATE_COPY(values<Row>({
        {"Cmaj7", "C major", "F4", NoteFit::clash, avoid},
        {"Cmaj7", "C major", "F#4", NoteFit::tension, avoid},
        {"Dm7", "C major", "B4", NoteFit::tension,
         "13 on ii is at home in the key; common practice, no source"},
        {"Dm7", "C major", "Eb4", NoteFit::clash, avoid},
        {"Em7", "C major", "F4", NoteFit::clash, "Avoid note, Wikipedia: iii avoids b9"},
        {"Em7", "C major", "C5", NoteFit::clash, "Avoid note, Wikipedia: iii avoids b13"},
        {"Am7", "C major", "F4", NoteFit::clash, "Avoid note, Wikipedia: vi avoids b13"},
        {"Bm7b5", "C major", "C5", NoteFit::clash, "Avoid note, Wikipedia: vii avoids b9"},
        {"G7", "C major", "C5", NoteFit::clash, "Avoid note, Wikipedia: V7 avoids 11"},
        {"G7", "C major", "Ab4", NoteFit::tension, practice},
        {"G7", "C major", "Bb4", NoteFit::tension, practice},
        {"G7", "C major", "C#5", NoteFit::tension, practice},
        {"G7", "C major", "Eb5", NoteFit::tension, practice},
        // sus: the fourth is the chord's, the third lies above it as a tenth, b9 is idiomatic
        {"G7sus4", "C major", "C5", NoteFit::chord_tone, practice},
        {"G7sus4", "C major", "B4", NoteFit::tension, memory},
        {"G7sus4", "C major", "Ab4", NoteFit::tension, memory},
        {"G7sus4", "C major", "E5", NoteFit::tension, memory},
        {"G7sus4", "C major", "F#4", NoteFit::clash, memory},
        {"G9sus4", "C major", "A4", NoteFit::chord_tone, practice},
        // blues: the tonic's blues scale over I7, IV7, V7; the rest as anywhere
        {"C7", "C blues", "F4", NoteFit::tension, practice},
        {"C7", "C blues", "Eb4", NoteFit::tension, practice},
        {"C7", "C blues", "Gb4", NoteFit::tension, practice},
        {"F7", "C blues", "Bb4", NoteFit::tension, practice},
        {"G7", "C blues", "C5", NoteFit::tension, practice},
        {"G7", "C blues", "Gb4", NoteFit::tension, practice},
        {"C7", "C blues", "B4", NoteFit::clash, practice},
        {"Fmaj7", "C blues", "Bb4", NoteFit::clash,
         "only dominants take the blues scale; common practice, no source"},
    }));
    INFO(row.note << " over " << row.now << " in " << row.key << ": " << row.source);
    CHECK(reharm::to_string(fit_of(row.now, row.note, row.key)) == reharm::to_string(row.fit));
}

TEST_CASE("a clash is refused, or said, as the plan says", "[melody]") {
    // A is the 9 of G7 and the major seventh of Bb7.
    const auto refused = backdoor_under("w A4", "melody refuse").verdict;
    CHECK(refuses_for_melody(refused));
    CHECK(refused.melody.sentence == "A is the major seventh of Bb7: it clashes.");
    const auto by_default = backdoor_under("w A4", "outside 3").verdict;
    CHECK(refuses_for_melody(by_default));

    const auto warned = backdoor_under("w A4", "melody warn").verdict;
    CHECK(warned.allowed());
    CHECK(warned.melody.has_new_clash());
    CHECK(warned.melody.sentence == "A is the major seventh of Bb7: it clashes.");
    CHECK(term(warned, "melody-clash") > 0);

    const auto fits = backdoor_under("w F4", "melody warn").verdict;
    CHECK(fits.allowed());
    CHECK(term(fits, "melody-clash") == 0);
    CHECK(fits.cost < warned.cost);
}

TEST_CASE("never under a held leading tone, whatever the plan says of clashes", "[melody]") {
    // Backdoor progression, Wikipedia; the held B: common practice, no source.
    CHECK_FALSE(backdoor_under("w B4", "melody warn").verdict.allowed());
    CHECK_FALSE(backdoor_under("w B4", "melody refuse").verdict.allowed());
    // A short B goes by.
    CHECK(backdoor_under("e C5 B4 C5 D5 h F4", "melody refuse").verdict.allowed());
}

TEST_CASE("an unknown melody is said so and costs a little; a written rest is a rest", "[melody]") {
    const auto unknown = backdoor_under("w ?", "melody refuse").verdict;
    CHECK(unknown.allowed());
    CHECK(unknown.melody.sentence == "Melody unknown: not checked.");
    CHECK(term(unknown, "melody-unknown") > 0);
    const auto rest = backdoor_under("w r", "melody refuse").verdict;
    CHECK(rest.allowed());
    CHECK(rest.melody.sentence == "The melody fits.");
    CHECK(term(rest, "melody-unknown") == 0);
}
