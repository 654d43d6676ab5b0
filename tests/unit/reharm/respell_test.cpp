// compiler/reharm/respell.cpp: two changes beside each other are spelled together.
#include "reharm/respell.h"

#include <sstream>

#include "reharm/plan_binding.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

/// One change a bar: "-" leaves the written chord.
std::vector<reharm::Judged> changes(const rules::Chart& chart, const std::string& symbols) {
    std::vector<reharm::Judged> version;
    std::stringstream words(symbols);
    std::string word;
    for (int i = 0; words >> word; ++i) {
        if (word == "-") continue;
        rules::NewChord chord;
        chord.chord = chord.strict = *theory::parse_chord(word).chord;
        chord.length = chart.at(i).length;
        reharm::Judged judged;
        judged.placement.begin = i;
        judged.placement.end = i + 1;
        judged.placement.chords = {chord};
        judged.placement.derivation.push_back(
            {0, chord.chord.root, {chart.at(i).chord}, {chord.chord}, std::nullopt, std::nullopt});
        judged.verdict.melody.sentence = "The melody colours " + theory::to_string(chord.chord.root) +
                                         "7 into " + word + ". Gb is a note.";
        version.push_back(std::move(judged));
    }
    return version;
}

struct Spelled {
    std::string chords, told, sentence;
};

Spelled spelled(const std::string& key, const std::string& written, const std::string& symbols) {
    const auto tune = testing::small_tune(key, written, {}, "plan \"p\" for band\n  outside 4\n");
    const auto reading = testing::plain_reading(tune);
    const auto& rules = rules::built_in_rules();
    const auto plan = reharm::bind_plan(tune, rules, {});
    REQUIRE(plan.value.has_value());
    const auto chart = reharm::chart_for(*plan.value, tune, reading);
    const reharm::Situation situation{tune, chart, rules, *plan.value};
    auto version = changes(chart, symbols);
    reharm::respell_together(situation, version);
    Spelled out;
    for (const auto& judged : version) {
        const std::string gap = out.chords.empty() ? "" : " ";
        out.chords += gap + theory::to_string(judged.placement.chords.front().chord);
        out.told += gap + theory::to_string(judged.placement.derivation.front().new_chords.front());
    }
    out.sentence = version.front().verdict.melody.sentence;
    return out;
}

const std::string two_five = "Bbmaj7 | Cm7 | F7 | Bbmaj7";

}  // namespace

TEST_CASE("of two new chords a fifth apart the first takes the side of the second", "[reharm]") {
    const auto both = spelled("Bb major", two_five, "- Gb7b9 B7 -");
    CHECK(both.chords == "F#7b9 B7");
    CHECK(both.told == "F#7b9 B7");
    CHECK(both.sentence == "The melody colours F#7 into F#7b9. Gb is a note.");
    CHECK(spelled("E minor", "Am7 | D#dim7 | D7 | Gmaj7", "A#7 Eb7 - -").chords == "Bb7 Eb7");
}

TEST_CASE("where no player reads that name, the second takes the side of the first", "[reharm]") {
    CHECK(spelled("C major", "Fm6 | Em7 | A7 | Dm7", "Ab7 C#7 F#7 -").chords == "Ab7 Db7 Gb7");
}

TEST_CASE("what is well spelled stays: names that agree, written chords, a chord that goes on", "[reharm]") {
    CHECK(spelled("Bb major", two_five, "- F#7 B7 -").chords == "F#7 B7");
    CHECK(spelled("Bb major", two_five, "- Gb7 - -").chords == "Gb7");
    CHECK(spelled("F# major", "C#7 | F#6 | F#6 | F#6", "Db7 - - -").chords == "C#7");
    CHECK(spelled("Ab minor", "Cbmaj7 | Cbmaj7 | Em7 | A7", "- Cb6 Em7 A7").chords == "Cb6 Em7 A7");
}

TEST_CASE("a diminished chord is named after what it rises to, not after a fall", "[reharm]") {
    CHECK(spelled("Eb major", "Abmaj7 | Abmaj7 | Dm7b5 | G7", "- C#dim7 D7 -").chords == "C#dim7 D7");
}
