// compiler/reharm/altered_symbol.cpp: which dominants are alt, and symbols that nobody reads at sight.
#include "reharm/altered_symbol.h"

#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"

using namespace relead;

namespace {

theory::Chord chord(const std::string& symbol) {
    const auto read = theory::parse_chord(symbol).chord;
    REQUIRE(read.has_value());
    return *read;
}

std::string written(const std::string& symbol, const std::string& next) {
    const auto tune = testing::small_tune("C major", "C", {"melody | w r |"});
    const rules::Melodies melodies(tune);
    const auto following = next.empty() ? chord("C") : chord(next);
    return theory::to_string(reharm::as_players_write(melodies, 0, {chord(symbol), 0, Time(1)},
                                                      next.empty() ? nullptr : &following));
}

std::string refused(const std::string& symbol, const std::string& next = {}) {
    const auto following = next.empty() ? chord("C") : chord(next);
    return reharm::unreadable(chord(symbol), next.empty() ? nullptr : &following).value_or("");
}

}  // namespace

TEST_CASE("two altered tensions are alt where a dominant falls a fifth, and are spelled where it slides",
          "[reharm]") {
    CHECK(written("G7b9b13", "Cm7") == "G7alt");
    CHECK(written("G7b9#11", "C6") == "G7alt");
    CHECK(written("G7#9#11", "") == "G7alt");
    CHECK(written("Eb7b9#11", "Dm6") == "Eb7b9#11");
    CHECK(written("Db7b9#9", "Cmaj7") == "Db7b9#9");
    CHECK(written("Bb7b9#11", "Cmaj7") == "Bb7b9#11");
    CHECK(written("G7b9", "Cm7") == "G7b9");
    CHECK(written("G13b9", "C6") == "G13b9");
}

TEST_CASE("a dominant slides a half step down or a whole step up", "[reharm]") {
    CHECK(reharm::slides(chord("Db7"), chord("C6")));
    CHECK(reharm::slides(chord("Db13#11"), chord("Cm7/G")));
    CHECK(reharm::slides(chord("Bb7"), chord("C6")));
    CHECK_FALSE(reharm::slides(chord("G7"), chord("C6")));
    CHECK_FALSE(reharm::slides(chord("B7"), chord("C6")));
    CHECK_FALSE(reharm::slides(chord("Dbmaj7"), chord("C6")));
    CHECK_FALSE(reharm::slides(chord("Db7sus4"), chord("C6")));
    CHECK_FALSE(reharm::slides(chord("Db7"), chord("N.C.")));
}

TEST_CASE("what nobody reads at sight is refused in a musician's words", "[reharm]") {
    CHECK(refused("Eb7alt", "Dm6") ==
          "Eb7alt would fall a half step to Dm6; an altered dominant falls a fifth.");
    CHECK(refused("Bb7alt", "C6") ==
          "Bb7alt would rise a whole step to C6; an altered dominant falls a fifth.");
    CHECK(refused("A7alt", "Dm6").empty());
    CHECK(refused("Eb7b9#11", "Dm6").empty());
    CHECK(refused("C#dim7(b13)") == "C#dim7 has no place for A.");
    CHECK(refused("C#dim7").empty());
    CHECK(refused("D7sus4(b13)") == "D7sus4(b13) is no symbol that anybody reads at sight.");
    CHECK(refused("D7sus4b9").empty());
    CHECK(refused("Db7b9#9(#11)") ==
          theory::to_string(chord("Db7b9#9(#11)")) + " is no symbol that anybody reads at sight.");
    CHECK(refused("B7#11/D#") == "B7#11/D# is much to read at sight: a colour and another bass.");
    CHECK(refused("F7#9/E") == "F7#9/E is much to read at sight: a colour and another bass.");
    CHECK(refused("G13b9/B") == "G13b9/B is much to read at sight: a colour and another bass.");
    CHECK(refused("A7b9/C#") == "A7b9/C# is the same as C#dim7, which is easier to read.");
    CHECK(refused("A7b9/E").empty());
    CHECK(refused("C13/G").empty());
    CHECK(refused("Dm7/G").empty());
    CHECK(refused("Bm7b5(b13)").empty());
    CHECK(refused("C6(#11)").empty());
}

TEST_CASE("what a change asks for after it decides, where another change is to write that", "[reharm]") {
    // F#7 falls a half step to the written Fm6, but it may only stand before a B7 in place of Fm6.
    const auto tune = testing::small_tune("C major", "C6 | F6 | Fm6 | Em7",
                                          {"melody | w E4 | q A4 A4 D5 C5 | h A4 F4 | w G4 |"},
                                          "plan \"p\" for band\n  outside 4\n");
    const auto plan = reharm::bind_plan(tune, rules::built_in_rules(), {});
    REQUIRE(plan.value.has_value());
    const auto chart = reharm::chart_for(*plan.value, tune, testing::plain_reading(tune));
    const reharm::Situation situation{tune, chart, rules::built_in_rules(), *plan.value};
    int before_b = 0, spelled = 0;
    for (const auto& judged : reharm::build_pool(situation, {}).placements) {
        const auto symbol = theory::to_string(judged.placement.chords.back().chord);
        if (judged.placement.begin != 1 || judged.placement.end != 2 || symbol.rfind("F#7", 0) != 0) continue;
        before_b += symbol == "F#7alt" ? 1 : 0;
        spelled += symbol == "F#7#11b13" ? 1 : 0;
    }
    CHECK(before_b > 0);
    CHECK(spelled == 0);
}
