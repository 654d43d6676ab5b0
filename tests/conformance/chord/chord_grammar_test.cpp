// grammar/chord.ebnf against compiler/theory: what the grammar generates is read, but for the two
// conditions that the grammar names.
#include <fstream>
#include <sstream>

#include "support/catch.h"
#include "support/ebnf.h"
#include "theory/chord_table.h"

using namespace relead::theory;
using relead::testing::Ebnf;

namespace {

// The grammar with every spelling of the table in the place of its examples.
std::string whole_grammar() {
    std::ifstream file(RELEAD_SOURCE_DIR "/grammar/chord.ebnf");
    std::stringstream bytes;
    bytes << file.rdbuf();
    std::string text = bytes.str();
    const auto at = text.find("Spelling     ::=");
    REQUIRE(at != std::string::npos);
    text.erase(at);
    text += "Spelling ::= ";
    const char* separator = "";
    for (const auto& spelling : all_spellings()) {
        if (spelling.quality.row == 0 || spelling.text.empty()) continue;
        text += separator + ('"' + std::string(spelling.text)) + '"';
        separator = " | ";
    }
    return text;
}

}  // namespace

TEST_CASE("the grammar of chord symbols is whole") {
    const Ebnf grammar(whole_grammar());
    CHECK(grammar.undefined().empty());
    CHECK(grammar.unreached("Chord").empty());
}

TEST_CASE("what the grammar of chord symbols generates is read") {
    using Kind = ChordProblem::Kind;
    const Ebnf grammar(whole_grammar());
    std::mt19937 random(1729);
    int read = 0, refused = 0;
    for (int round = 0; round < 20000; ++round) {
        const std::string word = grammar.sentence("Chord", random);
        if (word.size() > 60) continue;
        const auto reading = parse_chord(word);
        INFO(word);
        if (reading.chord) {
            ++read;
            REQUIRE(parse_chord(to_string(*reading.chord)).chord == reading.chord);
            REQUIRE(parse_chord(to_string(*reading.chord, SymbolStyle::plain)).chord == reading.chord);
            continue;
        }
        ++refused;
        INFO("problem " << static_cast<int>(reading.problem->kind) << " at " << reading.problem->at);
        REQUIRE((reading.problem->kind == Kind::contradicting_degrees ||
                 reading.problem->kind == Kind::bad_degree));
    }
    CHECK(read > 8000);
    CHECK(refused > 100);
}
