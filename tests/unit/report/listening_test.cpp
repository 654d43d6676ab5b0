// compiler/report/listening.cpp: threads in register, symbols as instruments read them, stretches to repeat.
#include "report/listening.h"

#include <set>

#include "support/catch.h"
#include "support/small_tunes.h"
#include "tune/transpose.h"

using namespace relead;

namespace {

report::Listening page_of(const tune::Tune& tune) {
    return report::listening(report::compare(tune, {}), tune.key, {});
}

std::string text_of(const report::SymbolPieces& pieces) {
    return pieces.root + "|" + pieces.suffix + "|" + pieces.bass;
}

const report::ListenedChord& chord_of(const report::Listening& page, std::size_t bar, std::size_t chord = 0) {
    return page.chords.at(bar).at(0).at(chord);
}

std::size_t reader_of(const report::Listening& page, const std::string& instrument) {
    for (std::size_t i = 0; i < page.readers.size(); ++i) {
        for (const auto& name : page.readers[i].names) {
            if (name == instrument) return i;
        }
    }
    FAIL("no reader " << instrument);
    return 0;
}

std::string heights(const report::ListenedChord& chord) {
    std::string text;
    for (const auto& point : chord.threads) {
        text += point.name + std::to_string(point.height) +
                (point.goes ? ">" + std::to_string(point.goes_to) : "") + " ";
    }
    return text;
}

}  // namespace

TEST_CASE("a symbol comes in the pieces in which it is lettered") {
    struct Row {
        const char* chord;
        const char* pieces;
    };
    const auto row =
        GENERATE(Row{"Bbmaj7/D", "B♭|maj7|D"}, Row{"F#m7b5", "F♯|m7♭5|"}, Row{"C7(b9,#11)", "C|7♭9♯11|"},
                 Row{"C", "C||"}, Row{"Eb6/9", "E♭|6/9|"}, Row{"N.C.", "N.C.||"}, Row{"Abm/Cb", "A♭|m|C♭"});
    CAPTURE(row.chord);
    const auto reading = theory::parse_chord(row.chord);
    REQUIRE(reading.chord);
    auto pieces = report::symbol_pieces(*reading.chord);
    // Parentheses around degrees are a matter of the symbol's printer.
    std::erase_if(pieces.suffix, [](char c) { return c == '(' || c == ')' || c == ','; });
    CHECK(text_of(pieces) == row.pieces);
}

TEST_CASE("every instrument reads in its own key, spelled as on its part") {
    const auto page = page_of(testing::small_tune("Bb major", "Cm7 | B7 | Bbmaj7 | N.C."));
    CHECK(page.readers.front().names.front() == "Concert");
    // Concert Cm7 B7 Bbmaj7 reads Am7 Ab7 Gmaj7 on an alto: common practice, no source.
    const auto alto = reader_of(page, "Alto Sax");
    CHECK(alto == reader_of(page, "Baritone Sax"));
    CHECK(text_of(chord_of(page, 0).symbols[alto]) == "A|m7|");
    CHECK(text_of(chord_of(page, 1).symbols[alto]) == "A♭|7|");
    CHECK(text_of(chord_of(page, 2).symbols[alto]) == "G|maj7|");
    CHECK(text_of(chord_of(page, 3).symbols[alto]) == "N.C.||");
    const auto trumpet = reader_of(page, "Trumpet");
    CHECK(text_of(chord_of(page, 0).symbols[trumpet]) == "D|m7|");
    CHECK(text_of(chord_of(page, 0).symbols[reader_of(page, "Flute")]) == "C|m7|");
    CHECK(text_of(chord_of(page, 0).symbols[reader_of(page, "Horn in F")]) == "G|m7|");
    std::set<std::string> names;
    for (const auto& reader : page.readers) names.insert(reader.names.begin(), reader.names.end());
    CHECK(names.count("Drums") == 0);
    CHECK(names.size() == theory::instruments().size() - 1);
}

TEST_CASE("threads arrive where the next chord's guide tones stand") {
    // Seventh falls to third, third stays as seventh: Open Music Theory v2, "ii-V-I".
    const auto page = page_of(testing::small_tune("C major", "Dm7 | G7 | Cmaj7 | C6"));
    CHECK(heights(chord_of(page, 0)) == "C60>59 F65>65 ");
    CHECK(heights(chord_of(page, 1)) == "B59>59 F65>64 ");
    CHECK(heights(chord_of(page, 2)).substr(0, 4) == "B59>");
}

TEST_CASE("threads stay in the middle of the staff however long they fall") {
    std::string changes;
    for (int i = 0; i < 8; ++i)
        changes +=
            std::string(i == 0 ? "" : " | ") + "Dm7 G7 | Cm7 F7 | Bbm7 Eb7 | Abm7 Db7 | F#m7 B7 | Em7 A7";
    const auto page = page_of(testing::small_tune("C major", changes));
    REQUIRE(page.chords.size() == 48);
    for (const auto& bar : page.chords) {
        for (const auto& chord : bar[0]) {
            REQUIRE(chord.threads.size() == 2);
            const int sum = chord.threads[0].height + chord.threads[1].height;
            CHECK(sum >= 2 * 57);
            CHECK(sum <= 2 * 69);
        }
    }
}

TEST_CASE("no thread over N.C.") {
    const auto page = page_of(testing::small_tune("C major", "G7 | N.C. | Cmaj7"));
    CHECK(chord_of(page, 1).threads.empty());
    REQUIRE(chord_of(page, 0).threads.size() == 2);
    CHECK_FALSE(chord_of(page, 0).threads[0].goes);
    CHECK(chord_of(page, 2).threads.size() == 2);
}

TEST_CASE("each playing of a section is a stretch to repeat") {
    const auto tune = testing::read_whole(
        "tune \"Three Floats\"\nkey C major\nform A A B\nsection A\nchanges | C | G7 |\nsection B\nchanges | "
        "F |\n");
    const auto page = page_of(tune);
    std::string text;
    for (const auto& stretch : page.stretches) {
        text +=
            stretch.label + " " + std::to_string(stretch.first) + "-" + std::to_string(stretch.last) + "\n";
    }
    CHECK(text == "A 0-1\nA, 2nd time 2-3\nB 4-4\n");
}
