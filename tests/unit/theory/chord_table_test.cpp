// grammar/chord-table.txt: each row agrees with itself
#include "theory/chord_table.h"

#include <algorithm>
#include <set>

#include "theory/scale.h"
#include "unit/theory/chords.h"

using namespace relead::theory;
using namespace relead::theory::test;

namespace {

std::uint16_t rows() {
    return static_cast<std::uint16_t>(quality_count());
}

unsigned pitches(std::span<const Degree> degrees) {
    unsigned set = 0;
    for (const Degree d : degrees) set |= 1U << semitones_above_root(d);
    return set;
}

bool has(const QualityRow& row, int number, int alteration) {
    return std::find(row.degrees.begin(), row.degrees.end(), Degree{number, alteration}) != row.degrees.end();
}

}  // namespace

TEST_CASE("there are at least sixty qualities, each with its own degrees in order") {
    CHECK(quality_count() > 60);
    std::set<std::vector<Degree>> seen;
    for (std::uint16_t i = 1; i < rows(); ++i) {
        const auto row = quality_row({i});
        INFO("chord-table.txt:" << row.line);
        CHECK(seen.insert({row.degrees.begin(), row.degrees.end()}).second);
        CHECK(std::is_sorted(row.degrees.begin(), row.degrees.end()));
        REQUIRE_FALSE(row.degrees.empty());
        CHECK(row.degrees.front() == Degree{1, 0});
        CHECK(find_quality(row.name) == QualityId{i});
        CHECK(quality_name({i}) == row.name);
    }
    CHECK(quality_row({0}).chord_class == ChordClass::none);
    CHECK_FALSE(find_quality("no such chord").has_value());
}

TEST_CASE("the class of a row follows from its degrees") {
    for (std::uint16_t i = 1; i < rows(); ++i) {
        const auto row = quality_row({i});
        INFO("chord-table.txt:" << row.line << ' ' << row.name);
        switch (row.chord_class) {
            case ChordClass::dominant:
                CHECK((has(row, 3, 0) && has(row, 7, -1)));
                break;
            case ChordClass::minor:
                CHECK((has(row, 3, -1) && !has(row, 5, -1)));
                break;
            case ChordClass::half_diminished:
                CHECK((has(row, 3, -1) && has(row, 5, -1) && has(row, 7, -1)));
                break;
            case ChordClass::diminished:
                CHECK((has(row, 3, -1) && has(row, 5, -1) && !has(row, 7, -1)));
                break;
            case ChordClass::augmented:
                CHECK((has(row, 3, 0) && has(row, 5, 1) && !has(row, 7, -1)));
                break;
            case ChordClass::suspended:
                CHECK((!has(row, 3, 0) && !has(row, 3, -1) && (has(row, 4, 0) || has(row, 2, 0))));
                break;
            case ChordClass::major:
                CHECK((has(row, 3, 0) && !has(row, 7, -1) && !has(row, 5, 1)));
                break;
            case ChordClass::power:
                CHECK(row.degrees.size() == 2);
                break;
            case ChordClass::none:
                FAIL("only row 0 is no chord");
        }
    }
}

TEST_CASE("tensions, avoid notes and chord tones never overlap") {
    for (std::uint16_t i = 1; i < rows(); ++i) {
        const auto row = quality_row({i});
        INFO("chord-table.txt:" << row.line << ' ' << row.name);
        CHECK((pitches(row.tensions) & pitches(row.avoid)) == 0);
        CHECK((pitches(row.tensions) & pitches(row.degrees)) == 0);
        CHECK((pitches(row.avoid) & pitches(row.degrees)) == 0);
    }
}

TEST_CASE("plain and altered dominants take b9 #9 #11 b13 unless the symbol says otherwise") {
    const auto row = quality_row(*find_quality("7"));
    for (const Degree d : {Degree{9, -1}, Degree{9, 1}, Degree{11, 1}, Degree{13, -1}})
        CHECK(std::find(row.tensions.begin(), row.tensions.end(), d) != row.tensions.end());
}

TEST_CASE("no spelling begins with an accidental, which would belong to the root") {
    for (const auto& spelling : all_spellings()) {
        INFO(spelling.text);
        CHECK((spelling.text.empty() || (spelling.text[0] != 'b' && spelling.text[0] != '#')));
    }
}

TEST_CASE("the folding table holds no ASCII sign") {
    for (int byte = 1; byte < 0x80; ++byte) {
        const std::string one(1, static_cast<char>(byte));
        CHECK(fold_chord_signs(one).text == one);
        CHECK(fold_chord_signs(one).noticed.empty());
    }
    CHECK(fold_chord_signs("B♭−7").text == "Bb-7");
    CHECK(fold_chord_signs("B♭7").origin == std::vector<std::size_t>{0, 1, 4, 5});
}

TEST_CASE("every quality has one usual scale that holds its tones") {
    for (std::uint16_t i = 1; i < rows(); ++i) {
        const auto row = quality_row({i});
        INFO("chord-table.txt:" << row.line << ' ' << row.name);
        Chord of;
        of.quality = {i};
        const auto scale = scale_for(of);
        REQUIRE(scale.has_value());
        INFO("scale " << scale->name);
        CHECK((pitches(row.degrees) & ~pitches(scale->degrees)) == 0);
    }
    CHECK_FALSE(scale_for(chord("N.C.")).has_value());
    CHECK_FALSE(find_scale("no such scale").has_value());
    for (const auto& scale : scales()) CHECK(std::is_sorted(scale.degrees.begin(), scale.degrees.end()));
}

TEST_CASE("scales by name") {
    struct Row {
        const char *name, *root, *notes;
    };
    // Wikipedia, articles of the scales.
    const Row scale_rows[] = {{"altered", "G", "G Ab A# B C# D# F"},
                              {"melodic minor", "C", "C D Eb F G A B"},
                              {"whole tone", "C", "C D E F# G# Bb"},
                              {"half-whole diminished", "C", "C Db D# E F# G A Bb"},
                              {"dorian", "D", "D E F G A B C"},
                              {"blues", "C", "C Eb F Gb G Bb"},
                              {"locrian natural 2", "B", "B C# D E F G A"},
                              {"phrygian dominant", "G", "G Ab B C D Eb F"}};
    for (const auto& row : scale_rows) {
        INFO(row.name);
        const auto scale = find_scale(row.name);
        REQUIRE(scale.has_value());
        std::vector<std::string> names;
        for (const NoteName name : notes_of(*scale, note(row.root))) names.push_back(to_string(name));
        CHECK(joined(names) == row.notes);
    }
    CHECK(scale_for(chord("Db7#11"))->name == "lydian dominant");
    CHECK(scale_for(chord("G7alt"))->name == "altered");
}
