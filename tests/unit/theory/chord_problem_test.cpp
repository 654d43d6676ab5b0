// compiler/theory/chord_parse.cpp, chord_suggest.cpp: what cannot be read, where, and what was meant
#include "unit/theory/chords.h"

using namespace relead::theory;

TEST_CASE("a chord that cannot be read says why, where, and what may have been meant") {
    using Kind = ChordProblem::Kind;
    struct Row {
        const char* word;
        Kind kind;
        std::size_t at;
        const char* nearest;
    };
    const Row rows[] = {
        {"", Kind::empty, 0, ""},
        {"dm7", Kind::lower_case_root, 0, "Dm7"},
        {"bb7", Kind::lower_case_root, 0, "Bb7"},
        {"b", Kind::lower_case_root, 0, "B"},
        {"ebmaj7", Kind::lower_case_root, 0, "Ebmaj7"},
        {"fish", Kind::lower_case_root, 0, ""},
        {"Hm7", Kind::h_root, 0, "Bm7"},
        {"h7", Kind::h_root, 0, "B7"},
        {"Xm7", Kind::unknown_root, 0, ""},
        {"7", Kind::unknown_root, 0, ""},
        {"m7", Kind::unknown_root, 0, ""},
        {"Cxyz", Kind::unknown_quality, 1, ""},
        {"Cmj7", Kind::unknown_quality, 2, "Cmaj7"},
        {"Cmajor7", Kind::unknown_quality, 4, "Cmaj7"},
        {"Cminor7", Kind::unknown_quality, 4, "Cmin7"},
        {"Cdim77", Kind::bad_degree, 5, "Cdim7"},
        {"Bb7(b8)", Kind::bad_degree, 4, "Bb7(b9)"},
        {"C7b8", Kind::bad_degree, 2, "C7b9"},
        {"C7(b9,#12)", Kind::bad_degree, 6, "C7(b9,#11)"},
        {"C7()", Kind::bad_degree, 3, "C7"},
        {"C7(b9", Kind::unclosed_parenthesis, 2, "C7(b9)"},
        {"C7b9)", Kind::unclosed_parenthesis, 4, "C7b9"},
        {"C7(b9,9)", Kind::contradicting_degrees, 2, "C7(b9,#9)"},
        {"C9b9", Kind::contradicting_degrees, 2, "C7b9"},
        {"Cm7b5(#5)", Kind::contradicting_degrees, 5, ""},
        {"Gm7/", Kind::space_before_slash, 3, "Gm7"},
        {"Em7/A7", Kind::two_chords_or_bass, 3, "Em7 A7"},
        {"Dm7/Gmaj7", Kind::two_chords_or_bass, 3, "Dm7 Gmaj7"},
        {"C/e", Kind::bad_bass, 2, "C/E"},
        {"C/H", Kind::bad_bass, 2, "C"},
        {"C7 (b9)", Kind::detached_degrees, 2, "C7(b9)"},
        {"(b9)", Kind::detached_degrees, 0, ""},
        {"C7{", Kind::bad_upper_structure, 2, ""},
        {"C7{D7}", Kind::bad_upper_structure, 2, ""},
        {"C7{x}", Kind::bad_upper_structure, 2, ""},
        {"C--x", Kind::bad_degree, 2, ""},
        {"F^7", Kind::unknown_quality, 1, ""},
        {"C-^7", Kind::unknown_quality, 2, ""},
        {"C7;", Kind::unknown_quality, 2, "C7"},
        {"E4", Kind::unknown_quality, 1, ""},
    };
    for (const auto& row : rows) {
        INFO(row.word);
        const auto reading = parse_chord(row.word);
        REQUIRE_FALSE(reading.chord.has_value());
        REQUIRE(reading.problem.has_value());
        CHECK(static_cast<int>(reading.problem->kind) == static_cast<int>(row.kind));
        CHECK(reading.problem->at == row.at);
        CHECK(reading.problem->nearest == row.nearest);
    }
    CHECK(parse_chord("Em7/A7").problem->other == "Em7/A");
}

TEST_CASE("places count the bytes of the word as it was typed") {
    // ♭ takes three bytes.
    CHECK(parse_chord("B♭7(♭8)").problem->at == 6);
    CHECK(parse_chord("B♭7/").problem->at == 5);
    CHECK(parse_chord("B♭m7/x").problem->at == 7);
}

TEST_CASE("an endless word is refused at once") {
    CHECK_FALSE(parse_chord(std::string(1000000, 'C')).chord.has_value());
    std::string slashes;
    for (int i = 0; i < 100000; ++i) slashes += "C/";
    CHECK_FALSE(parse_chord(slashes).chord.has_value());
}
