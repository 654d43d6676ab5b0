// compiler/pipeline/read.cpp: the key of a tune that states none, heard in its chords.
#include "pipeline/read.h"

#include "analysis/analysis.h"
#include "support/catch.h"

using namespace relead;

TEST_CASE("a missing key is heard in the chords, as every command hears it", "[pipeline]") {
    const auto heard = [](const std::string& changes) {
        const text::Source source(
            "test.tune", "tune \"T\"\nmeter 4/4\ntempo 120\nsection A\nchanges | " + changes + " |\n");
        const auto tune = pipeline::read_tune(source);
        REQUIRE(tune.value);
        REQUIRE(tune.diagnostics.size() == 1);
        const auto key = theory::to_string(tune.value->key);
        CHECK(tune.diagnostics.front().sentence == "No key is given; the chords suggest " + key + ".");
        CHECK(theory::to_string(analysis::analyse(*tune.value).estimated) == key);
        return key;
    };
    CHECK(heard("Cmaj7 | Am7 | Dm7 | G7 | Em7 A7 | Dm7 G7 | C6 | C6") == "C major");
    CHECK(heard("Bb6 G7 | Cm7 F7 | Dm7 G7 | Cm7 F7 | Fm7 Bb7 | Eb6 Ebm6 | Cm7 F7 | Bb6") == "Bb major");
    CHECK(heard("Cm7 | Fm7 | Dm7b5 | G7b9 | Cm7 | Ab7 | Dm7b5 G7b9 | Cm6") == "C minor");
    CHECK(heard("F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | F7 | Gm7 | C7 | F7 | C7") == "F blues");
    CHECK(heard("F#m7b5 | B7b9 | Em7 | Em7") == "E minor");
    CHECK(heard("N.C. | N.C.") == "C major");
}

TEST_CASE("a form of dominants in the bridge does not make a blues of the tune", "[pipeline]") {
    const text::Source source(
        "test.tune",
        "tune \"T\"\nsection A\nchanges | Bb6 G7 | Cm7 F7 | Dm7 G7 | Cm7 F7 | Bb7 | Eb7 "
        "Edim7 | Dm7 G7 | Cm7 F7 |\nsection B\nchanges | D7 | D7 | G7 | G7 | C7 | C7 | F7 "
        "| F7 |\n");
    CHECK(theory::to_string(pipeline::read_tune(source).value->key) == "Bb major");
}

TEST_CASE("a given key that the chords do not bear out is remarked", "[pipeline]") {
    const auto remarks = [](const std::string& key, const std::string& changes, const std::string& top = "") {
        const text::Source source("test.tune", top + "tune \"T\"\nkey " + key +
                                                   "\nmeter 4/4\ntempo 120\nsection A\nchanges | " + changes +
                                                   " |\n");
        const auto tune = pipeline::read_tune(source);
        REQUIRE(tune.value);
        CHECK(theory::to_string(tune.value->key) == key);
        CHECK(tune.clean());
        std::string sentences;
        for (const auto& one : tune.diagnostics) {
            CHECK(one.code == "key-heard-otherwise");
            CHECK(one.severity == Severity::remark);
            sentences += one.sentence;
        }
        return sentences;
    };
    const std::string in_c = "Cmaj7 | Am7 | Dm7 | G7 | Em7 A7 | Dm7 G7 | C6 | C6";
    CHECK(remarks("C major", in_c).empty());
    CHECK(remarks("G major", in_c) == "The key is given as G major; the chords suggest C major.");
    CHECK(remarks("A minor", in_c) == "The key is given as A minor; the chords suggest C major.");
    // The same tonic in another mode, a mode of the scale that is heard: not worth a word.
    CHECK(remarks("C blues", in_c).empty());
    CHECK(remarks("G mixolydian", in_c).empty());
    CHECK(remarks("D mixolydian", in_c) == "The key is given as D mixolydian; the chords suggest C major.");
    // Seven bars are too few to hear a key in; a version is in the key of its tune.
    CHECK(remarks("G major", "Cmaj7 | Am7 | Dm7 | G7 | Dm7 | G7 | C6").empty());
    CHECK(remarks("G major", in_c, "-- version \"mild\" 0123abcd\n").empty());
}
