// compiler/theory/signs: what becomes a flat or sharp sign in a sentence, and what stays.
#include "theory/signs.h"

#include "support/catch.h"

using relead::theory::in_hand_of;
using relead::theory::in_one_hand;
using relead::theory::motion_with_signs;
using relead::theory::with_signs;

TEST_CASE("chords, notes, degrees and numerals are written with signs", "[theory]") {
    const struct {
        const char* typed;
        const char* written;
    } rows[] = {
        {"Gb7#11 keeps E and Bb of C7.", "G♭7♯11 keeps E and B♭ of C7."},
        {"The melody colours Ab7 into Ab7b9#11.", "The melody colours A♭7 into A♭7♭9♯11."},
        {"Into Am7b5: A (3) skips up to C (b3).", "Into Am7♭5: A (3) skips up to C (♭3)."},
        {"Eb is the b9 of D7.", "E♭ is the ♭9 of D7."},
        {"C7(b9,#11), then Bbmaj7/D", "C7(♭9,♯11), then B♭maj7/D"},
        {"F/Bb and F#m7b5/C#", "F/B♭ and F♯m7♭5/C♯"},
        {"D7*2 Ebm7*1 Ab7#11*1", "D7*2 E♭m7*1 A♭7♯11*1"},
        {"bVII7 of Bb major, #ivdim7", "♭VII7 of B♭ major, ♯ivdim7"},
        {"“Bb7”, \"Db7\"", "“B♭7”, \"D♭7\""},
        {"Abb and Cbb", "A♭♭ and C♭♭"},
        {"Ebb held", "E♭♭ held"},
        {"", ""},
        {"  two  spaces\nBb ", "  two  spaces\nB♭ "},
    };
    for (const auto& row : rows) CHECK(with_signs(row.typed) == row.written);
}

TEST_CASE("words stay words", "[theory]") {
    for (const char* text :
         {"About a bass line: Abbey, Ebb Tide and Bubble", "Against mild: new at A:7.3, B:2 and Bb:2",
          "A:7 and 2b or not 2b, beside bands", "E♭7 stays E♭7", "Debt. Db-Major-Club", "in b"})
        CHECK(with_signs(text) == text);
}

TEST_CASE("guide tones move along arrows", "[theory]") {
    CHECK(motion_with_signs("Eb>D, A held, B=Cb") == "E♭ → D, A held, B = C♭");
    CHECK(motion_with_signs("Ebb>Db") == "E♭♭ → D♭");
    CHECK(motion_with_signs("") == "");
}

TEST_CASE("a sentence has one sign, that of its chords", "[theory]") {
    CHECK(in_one_hand("A♭7 has Ab, the b9 of G7b9 (Eb>D).") == "A♭7 has A♭, the ♭9 of G7b9 (E♭>D).");
    CHECK(in_one_hand("Ab7 has Ab, the b9 of G7b9.") == "Ab7 has Ab, the b9 of G7b9.");
    CHECK(in_one_hand("C7 keeps E and Bb.") == "C7 keeps E and Bb.");
    CHECK(in_hand_of("C7 > G♭7", "Bb>A, F#=Gb, Ebb held") == "B♭>A, F♯=G♭, E♭♭ held");
    CHECK(in_hand_of("C7 > Gb7", "Bb>A") == "Bb>A");
}
