// compiler/pipeline/api.cpp: the public API as a program would use it.
#include <relead/relead.h>

#include "support/catch.h"

using namespace relead;

namespace {

const Text slip{"slip.tune",
                "tune \"Slip\"\nby \"P. Quill\"\nkey F major\nmeter 4/4\ntempo 120 swing\n\nsection A\n"
                "changes | Gm7 | C7 | Fmaj7 | F6 |\nmelody | w Bb4 | A4 | A4 | F4 |\n"};

}  // namespace

TEST_CASE("a tune is read, told, moved and written back") {
    const auto tune = read_tune(slip);
    REQUIRE(tune.clean());
    CHECK(tune.value->title() == "Slip");
    CHECK(tune.value->composer() == "P. Quill");
    CHECK(tune.value->key() == "F major");
    CHECK(tune.value->bars() == 4);
    CHECK(tune.value->plans().empty());
    const auto up = transpose(*tune.value, {2, -1});
    CHECK(up.key() == "G major");
    CHECK(to_text(transpose(up, {-2, 1})) == to_text(*tune.value));
    CHECK(read_tune({"again", to_text(*tune.value)}).clean());
    CHECK(tidy(slip).value.value_or("").find("section A\nchanges | Gm7   | C7 |") != std::string::npos);
}

TEST_CASE("wrong text is a value with diagnostics") {
    const auto tune = read_tune({"bad", "tune \"Slip\"\nkey F major\nsection A\nchanges | Fmja7 | C7 |\n"});
    REQUIRE(tune.value);
    CHECK_FALSE(tune.clean());
    CHECK_FALSE(read_tune({"bytes", std::string("\xC0\xAF", 2)}).value);
}

TEST_CASE("the analysis speaks of every written chord") {
    const auto analysis = analyse(*read_tune(slip).value);
    REQUIRE(analysis.chords.size() == 4);
    CHECK(analysis.given_key == "F major");
    CHECK(analysis.chords[1].symbol == "C7");
    CHECK(analysis.chords[1].numeral == "V7");
    CHECK(analysis.chords[1].prepares);
    CHECK(analysis.chords[0].target == 1);
}

TEST_CASE("a version with its reasons and its sheets") {
    const auto tune = *read_tune(slip).value;
    Wish wish;
    wish.use = {"tritone"};
    const auto choices = reharmonise(tune, built_in_rules(), wish);
    REQUIRE(choices.clean());
    REQUIRE(choices.value->versions.size() == 1);
    const auto& version = choices.value->versions.front();
    REQUIRE(version.changes.size() == 1);
    CHECK(version.changes[0].place == "A:2");
    CHECK(version.changes[0].was == "C7");
    CHECK(version.changes[0].now.substr(0, 3) == "Gb7");
    const auto plain = sheet(version, "slip");
    REQUIRE(plain.clean());
    CHECK(plain.value->name == "slip.musicxml");
    CHECK(plain.value->bytes.find("<score-partwise") != std::string::npos);
    const auto alto = sheet(version, "slip", {"alto-sax", true});
    REQUIRE(alto.clean());
    CHECK(alto.value->bytes.substr(0, 2) == "PK");
}

TEST_CASE("wishes that cannot be read are diagnostics") {
    const auto tune = *read_tune(slip).value;
    Wish wish;
    wish.hold = {"A7"};
    const auto held = reharmonise(tune, built_in_rules(), wish);
    CHECK_FALSE(held.value);
    REQUIRE(held.diagnostics.size() == 1);
    CHECK(held.diagnostics[0].code == "wish-bad-address");
    const auto sheet_for_nobody = sheet(tune, "slip", {"altosex", false});
    CHECK_FALSE(sheet_for_nobody.value);
    CHECK(sheet_for_nobody.diagnostics.at(0).code == "unknown-instrument");
}
