// compiler/report/signs: what becomes a flat or sharp sign in a sentence, and what stays.
#include "report/signs.h"

#include "support/catch.h"

using relead::report::motion_with_signs;
using relead::report::with_signs;

TEST_CASE("chords, notes, degrees and numerals are written with signs", "[report]") {
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

TEST_CASE("words stay words", "[report]") {
    for (const char* text :
         {"About a bass line: Abbey, Ebb Tide and Bubble", "Against mild: new at A:7.3, B:2 and Bb:2",
          "A:7 and 2b or not 2b, beside bands", "E♭7 stays E♭7", "Debt. Db-Major-Club", "in b"})
        CHECK(with_signs(text) == text);
}

TEST_CASE("guide tones move along arrows", "[report]") {
    CHECK(motion_with_signs("Eb>D, A held, B=Cb") == "E♭ → D, A held, B = C♭");
    CHECK(motion_with_signs("Ebb>Db") == "E♭♭ → D♭");
    CHECK(motion_with_signs("") == "");
}
