// compiler/reharm/symbol_habits.cpp, grammar/symbol-words.txt: new chords in the composer's own spelling.
#include "reharm/symbol_habits.h"

#include <fstream>
#include <set>
#include <sstream>

#include "analysis/analysis.h"
#include "reharm/reharmonise.h"
#include "rules/kind.h"
#include "rules/read_rules.h"
#include "support/catch.h"
#include "support/small_tunes.h"
#include "syntax/parse_tune.h"
#include "theory/chord_table.h"
#include "tune/write.h"

using namespace relead;

namespace {

std::string dressed(const std::string& changes, const std::string& symbol) {
    auto chord = theory::parse_chord(symbol).chord;
    REQUIRE(chord.has_value());
    chord->suffix.clear();
    reharm::SymbolHabits(testing::small_tune("C major", changes)).dress(*chord);
    return theory::to_string(*chord);
}

std::string sample(const std::string& name) {
    std::ifstream file(RELEAD_SOURCE_DIR "/samples/tunes/" + name + ".tune");
    std::stringstream bytes;
    bytes << file.rdbuf();
    return bytes.str();
}

/// Every symbol of the changes rows by `hand`, the rest of the text as it is.
std::string in_another_hand(const std::string& text, const std::string& house, const std::string& hand) {
    std::stringstream lines(text);
    std::string out;
    for (std::string line; std::getline(lines, line);) {
        if (line.rfind("changes", 0) == 0) {
            for (auto at = line.find(house); at != std::string::npos; at = line.find(house, at + hand.size()))
                line.replace(at, house.size(), hand);
        }
        out += line + "\n";
    }
    return out;
}

std::vector<reharm::Version> versions_of(const tune::Tune& tune) {
    reharm::Wish wish;
    wish.versions = 3;
    const auto outcome = reharm::reharmonise(tune, analysis::analyse(tune), rules::built_in_rules(), wish);
    REQUIRE(outcome.value.has_value());
    return outcome.value->versions;
}

std::vector<theory::Chord> chords_of(const tune::Tune& tune) {
    std::vector<theory::Chord> chords;
    for (const auto& section : tune.sections) {
        for (const auto& bar : section.bars) {
            for (const auto& event : bar.changes) chords.push_back(event.chord);
        }
    }
    return chords;
}

}  // namespace

TEST_CASE("a quality of the tune is written as it stands there, the one that stands more often", "[reharm]") {
    CHECK(dressed("C-7 | D-7 | Emin7 | Cmaj7", "Bm7") == "B-7");
    CHECK(dressed("Cmin7 | D-7 | Emin7 | Cmaj7", "Bm7") == "Bmin7");
    CHECK(dressed("Cmin7 | D-7", "Bm7") == "Bmin7");
    CHECK(dressed("Em7(b5) | A7-9 | D-6", "F#m7b5") == "F#m7(b5)");
    CHECK(dressed("Em7(b5) | A7-9 | D-6", "Bb7b9") == "Bb7-9");
    CHECK(dressed("CM7 | C6", "Ebmaj7") == "EbM7");
}

TEST_CASE("a quality that the tune does not have follows its kin", "[reharm]") {
    const std::string signs = "CΔ7 | D-7 | G7 | CΔ7";
    CHECK(dressed(signs, "Gm6") == "G-6");
    CHECK(dressed(signs, "Em7b5") == "E-7b5");
    CHECK(dressed(signs, "Fmaj9") == "FΔ9");
    CHECK(dressed(signs, "Cm(maj7)") == "C-(Δ7)");
    CHECK(dressed("C6 | D-7 | Aø7 | D7", "Em9b5") == "Eø9");
    CHECK(dressed("C6 | B°7 | Am7", "F#dim") == "F#°");
    CHECK(dressed(signs, "F#dim7") == "F#°7");
    CHECK(dressed("C6 | D-7 | G7", "F#dim7") == "F#dim7");
    CHECK(dressed("CΔ | Bdim7 | G7", "F#dim") == "F#dim");
    CHECK(dressed("C69 | D-7 | G7", "F6/9#11") == "F6/9#11");
    CHECK(dressed("C6 | G7sus | C6", "D9sus4") == "D9sus");
    CHECK(dressed("C6 | G7(b9) | C6", "Db7#11") == "Db7(#11)");
    CHECK(dressed("C6 | G7(b9) | C6", "Db7b9#11") == "Db7(b9,#11)");
    CHECK(dressed("C6 | G7(b9) | C6", "Dm7b5") == "Dm7b5");
    CHECK(dressed("B♭6 | G7 | C6", "E7b9") == "E7♭9");
    CHECK(dressed("C6 | G7♭9 | C6", "Db7#11") == "D♭7♯11");
}

TEST_CASE("without a hint, and for what cannot be read so, the chord table's spelling stands", "[reharm]") {
    for (const auto* symbol :
         {"Bbmaj7", "Ebm7", "F#dim7", "Bm7b5", "Ab7#11", "D9sus4", "G7alt", "Cm(maj7)"}) {
        CHECK(dressed("C | F | G7 | C", symbol) == symbol);
        CHECK(dressed("Cmaj7 | Dm7 | G7b9 | Cmaj7", symbol) == symbol);
    }
}

TEST_CASE("whatever the hand, every quality on every root parses back to itself", "[reharm]") {
    for (const auto* hand : {"C-7 | FΔ | Bø7 | E7(b9) | A7sus | D69 | G°7 | C+", "Cmi7 | Fma7 | B♭7♭9 | Eø",
                             "CMI7 | FMA7 | G7-9 | E+7 | B-7(b5)", "Cm | F | B"}) {
        const reharm::SymbolHabits habits(testing::small_tune("C major", hand));
        for (std::size_t row = 1; row < theory::quality_count(); ++row) {
            for (const int fifths : {-8, -2, 0, 6, 9}) {
                theory::Chord chord;
                chord.root = theory::NoteName{fifths};
                chord.quality = theory::quality_at(row);
                auto written = chord;
                habits.dress(written);
                const auto text = theory::to_string(written);
                INFO(hand << ": " << text);
                const auto read = theory::parse_chord(text).chord;
                REQUIRE(read.has_value());
                CHECK(*read == chord);
            }
        }
    }
}

TEST_CASE("every part of the table is a spelling of the chord table and found among its signs", "[reharm]") {
    std::set<std::string_view> parts;
    for (const auto& word : reharm::symbol_words()) {
        INFO(word.part);
        CHECK(parts.insert(word.part).second);
        CHECK(theory::find_quality(word.house == "maj" ? "maj7" : word.house).has_value());
        for (const auto sign : word.signs) {
            INFO(sign);
            CHECK(theory::parse_chord("C" + std::string(sign) + (word.house == "maj" ? "7" : "")).chord);
        }
    }
    CHECK(parts.size() == 7);
}

TEST_CASE("the words of symbols stand in their table alone", "[reharm]") {
    std::ifstream file(RELEAD_SOURCE_DIR "/compiler/reharm/symbol_habits.cpp");
    std::stringstream bytes;
    bytes << file.rdbuf();
    const auto code = bytes.str();
    REQUIRE(code.size() > 1000);
    for (const auto& word : reharm::symbol_words()) {
        std::vector<std::string_view> all(word.signs);
        all.insert(all.end(), {word.part, word.house, word.then});
        for (const auto text : all) {
            INFO(text);
            for (const auto* opening : {"\"", "\"("})
                CHECK((text.empty() || code.find(opening + std::string(text) + "\"") == std::string::npos));
        }
        if (word.where == reharm::SymbolWord::Where::kind) CHECK(rules::find_kinds(word.part).has_value());
    }
}

TEST_CASE("another hand changes the spelling of a version and nothing else", "[reharm]") {
    for (const auto* name : {"ferry-at-first-light", "ropewalk-minor", "two-lighthouses"}) {
        INFO(name);
        const auto text = sample(name);
        auto other = in_another_hand(text, "maj7", "Δ7");
        other = in_another_hand(other, "m7b5", "ø7");
        other = in_another_hand(other, "m7", "-7");
        other = in_another_hand(other, "7b9", "7(b9)");
        const auto as_is = versions_of(testing::read_whole(text));
        const auto moved = versions_of(testing::read_whole(other));
        REQUIRE(as_is.size() == moved.size());
        int in_house = 0;
        for (std::size_t v = 0; v < moved.size(); ++v) {
            CHECK(chords_of(as_is[v].tune) == chords_of(moved[v].tune));
            CHECK(as_is[v].cost == moved[v].cost);
            for (const auto& chord : chords_of(moved[v].tune)) {
                const auto read = theory::parse_chord(theory::to_string(chord)).chord;
                REQUIRE(read.has_value());
                CHECK(*read == chord);
                const auto kind = theory::chord_class(chord);
                const bool minor =
                    kind == theory::ChordClass::minor && theory::guide_tones(chord)->seventh.number == 7;
                in_house += (minor && theory::to_string(chord).find('m') != std::string::npos) ? 1 : 0;
                // A tune without a major seventh says nothing about how its composer would write one.
                const bool writes_major_sevenths = other.find("Δ7") != std::string::npos;
                in_house +=
                    writes_major_sevenths && theory::to_string(chord).find("maj7") != std::string::npos ? 1
                                                                                                        : 0;
            }
        }
        CHECK(in_house == 0);
    }
}
