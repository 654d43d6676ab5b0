// compiler/reharm/guard.cpp and guide_motion.cpp: where guide tones land, and what is refused.
#include "reharm/guard.h"

#include "rules/read_rules.h"
#include "support/catch.h"

using namespace relead;

namespace {

theory::Chord chord(const std::string& word) {
    return *theory::parse_chord(word).chord;
}

std::string motion(const std::string& from, const std::string& to) {
    std::string text;
    for (const auto& one : reharm::motions_between(chord(from), chord(to)))
        text += (text.empty() ? "" : "; ") + reharm::to_string(one);
    return text;
}

rules::NewChord written_by(const std::string& rule, const std::string& symbol, int item) {
    rules::NewChord made;
    made.chord = made.strict = chord(symbol);
    const auto& all = rules::built_in_rules().rules;
    while (all[static_cast<std::size_t>(made.rule)].name != rule) ++made.rule;
    made.item = item;
    return made;
}

bool passes(const std::string& rule, const std::string& from, const std::string& to, int item = 0) {
    return !reharm::refuse_arrival(rules::built_in_rules(), written_by(rule, from, item), chord(to));
}

}  // namespace

// II-V-I and tritone rows: ii-V-I progression and Tritone substitution, Wikipedia; Wikibooks, Dominant
// substitute.
TEST_CASE("guide tones on their way", "[guard]") {
    CHECK(motion("Dm7", "G7") == "F (b3) held as b7; C (b7) half step down to B (3)");
    CHECK(motion("G7", "Cmaj7") == "B (3) held as 7; F (b7) half step down to E (3)");
    CHECK(motion("Db7", "Cmaj7") == "F (3) half step down to E (3); Cb (b7) held as B (7)");
    CHECK(motion("N.C.", "Cmaj7").empty());
}

TEST_CASE("a thread that a rule declares may land on the fifth", "[guard]") {
    // Backdoor progression, Wikipedia: the seventh of bVII7 falls to the fifth of I.
    const auto made = written_by("backdoor", "Bb7", 1);
    const auto motions = reharm::arrival(rules::built_in_rules(), made, chord("Cmaj7"));
    REQUIRE(motions.size() == 2);
    CHECK(reharm::to_string(motions[0]) == "D (3) whole step up to E (3)");
    CHECK(reharm::to_string(motions[1]) == "Ab (b7) half step down to G (5)");
    CHECK(motions[0].declared);
    CHECK(passes("backdoor", "Bb7", "Cmaj7", 1));
    // The same chord without those threads: its seventh would skip to the seventh.
    CHECK_FALSE(passes("related-ii", "Bb7", "Cmaj7"));
}

TEST_CASE("what leaps on arrival is refused with its tone", "[guard]") {
    const auto sentence = reharm::refuse_arrival(rules::built_in_rules(),
                                                 written_by("related-ii", "Ebmaj7", 0), chord("Cmaj7"));
    REQUIRE(sentence.has_value());
    CHECK(*sentence == "From Ebmaj7 to Cmaj7 a guide tone would skip: G (3) skips down to E (3).");
    auto kept = written_by("related-ii", "Ebmaj7", 0);
    kept.kept_from = 0;
    CHECK_FALSE(reharm::refuse_arrival(rules::built_in_rules(), kept, chord("Cmaj7")).has_value());
}

TEST_CASE("the tritone substitute arrives in every kind of target", "[guard]") {
    for (const auto* target : {"Cmaj7", "C6", "C", "Cm7", "Cm6", "Cm", "C7", "Cm(maj7)", "C9"}) {
        INFO(target);
        CHECK(passes("tritone", "Db7", target));
    }
}
