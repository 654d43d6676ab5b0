// compiler/formats/musicxml/harmony_writer.h
// Encodings: W3C MusicXML 4.0, data type kind-value and elements degree, degree-alter, bass, root-step.
#include <string>

#include "musicxml_tree.h"

namespace {

using namespace relead;

Tree tree_of(const char* symbol, bool changed = false,
             score::SymbolLettering lettering = score::SymbolLettering::plain) {
    auto measure = four_quarters();
    score::Harmony harmony;
    const auto reading = theory::parse_chord(symbol);
    REQUIRE(reading.chord);
    harmony.chord = *reading.chord;
    harmony.changed = changed;
    measure.harmonies.push_back(harmony);
    auto score = score_of({measure});
    score.lettering = lettering;
    return Tree(score);
}

/// root kind "text" degrees bass, in one line.
std::string encoded(const char* symbol) {
    auto measure = four_quarters();
    score::Harmony harmony;
    harmony.chord = *theory::parse_chord(symbol).chord;
    measure.harmonies.push_back(harmony);
    pugi::xml_document document;
    document.load_string(formats::write_musicxml(score_of({measure})).c_str());
    const auto node = document.select_node("//harmony").node();
    std::string text = node.child("root").child_value("root-step");
    text += node.child("root").child_value("root-alter");
    text += std::string(" ") + node.child_value("kind") + " '" +
            node.child("kind").attribute("text").value() + "'";
    for (const auto& degree : node.children("degree")) {
        text += std::string(" ") + degree.child_value("degree-type") + degree.child_value("degree-value") +
                "," + degree.child_value("degree-alter");
        if (std::string(degree.attribute("print-object").value()) == "no") text += "!";
    }
    if (const auto bass = node.child("bass")) {
        text += std::string(" /") + bass.child_value("bass-step") + bass.child_value("bass-alter");
    }
    return text;
}

}  // namespace

TEST_CASE("chord symbols as MusicXML") {
    struct Row {
        const char* symbol;
        const char* encoding;
    };
    const Row rows[] = {
        {"C", "C major ''"},
        {"Bbmaj7", "B-1 major-seventh 'maj7'"},
        {"F#m7b5", "F1 half-diminished 'm7b5'"},
        {"Cm(maj7)", "C major-minor 'm(maj7)'"},
        {"Bdim7", "B diminished-seventh 'dim7'"},
        {"D7/F#", "D dominant '7' /F1"},
        {"C6/9", "C major-sixth '6' add9,0"},
        {"E7#9", "E dominant '7' add9,1"},
        {"A7(#9b13)", "A dominant '7' add9,1 add13,-1"},
        {"C7b5", "C dominant '7' alter5,-1"},
        {"G7sus4", "G suspended-fourth '7sus4' add7,0!"},
        {"E7alt", "E dominant '7alt' alter5,-1! add9,-1! add9,1! add13,-1!"},
        {"N.C.", "C none 'N.C.'"},
    };
    for (const auto& row : rows) {
        INFO(row.symbol);
        CHECK(encoded(row.symbol) == row.encoding);
    }
}

TEST_CASE("parts of a chord symbol stand in the order of the schema") {
    CHECK(tree_of("Bb7(#9)/Ab").children("//harmony") == "root kind bass degree");
    CHECK(tree_of("C7(b9)").children("//degree") == "degree-value degree-alter degree-type");
    CHECK(tree_of("C7(b9)").count("//degree-type[@text='']") == 1);
}

TEST_CASE("no chord prints no root; a changed chord is marked") {
    CHECK(tree_of("N.C.").count("//root-step[@text='']") == 1);
    CHECK(tree_of("N.C.").count("//bass") == 0);
    CHECK(tree_of("C7", true).count("//harmony[@color][@font-weight='bold']") == 1);
    CHECK(tree_of("C7").count("//harmony[@color]") == 0);
}

TEST_CASE("compact lettering") {
    const auto text = [](const char* symbol) {
        return tree_of(symbol, false, score::SymbolLettering::compact)["//kind/@text"];
    };
    CHECK(text("Cmaj7") ==
          "\u25b3"
          "7");
    CHECK(text("Cm7") == "-7");
    CHECK(text("Cm7b5") == "\u00f8");
    CHECK(text("Cdim7") ==
          "\u00b0"
          "7");
    CHECK(text("C7") == "7");
    CHECK(text("Cm(maj7)") ==
          "-(\u25b3"
          "7)");
}
