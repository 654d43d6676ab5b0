// compiler/tune/lower_chords.cpp, split.cpp, lower_notes.cpp, lower_lyrics.cpp: bars that do not add up.
#include "unit/tune/reading.h"

using namespace relead;
using namespace relead::tune::testing;

TEST_CASE("Chords that do not fill their bar", "[tune]") {
    const Broken rows[] = {
        {in_section("changes | C*3 F*2 |"), "bar-overfull", "A:1.4", "F*2",
         "A:1 holds 5 beats, the meter asks for 4.", "none"},
        {in_section("changes | C | C*2 F |\nchanges | G7*2 C*1 |"), "bar-underfull", "A:3", "G7*2 C*1",
         "A:3 holds 3 beats, the meter asks for 4.", "none"},
        {in_section("changes | C / F / G7 |"), "bar-overfull", "A:1.5", "G7",
         "A:1 holds 5 beats, the meter asks for 4.", "none"},
        {in_section("changes | C / / |"), "bar-underfull", "A:1", "C / /",
         "A:1 holds 3 beats, the meter asks for 4.", " /"},
        {in_section("changes | C*4 F |"), "bar-overfull", "A:1.5", "F",
         "A:1 holds 5 beats, the meter asks for 4.", "none"},
        {in_section("changes | C*1/2 F*1 |", "6/8"), "bar-underfull", "A:1", "C*1/2 F*1",
         "A:1 holds 1 1/2 beats, the meter asks for 2.", "none"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE(
    "A line of the head that cannot be read is one fault: the line is not missed, no bar is measured by a "
    "guess") {
    const std::string rows =
        "section A\nchanges | C*2 F*1 | C F G7 | Dm7*2 G7*1 | C / / |\nmelody | q C5 D5 E5 | h. C5 "
        "| C5 | C5 |\nhits | q x x x | h. X | X | X |\n";
    const auto codes_with = [&](const std::string& key, const std::string& meter, const std::string& tempo) {
        return codes(read("tune \"T\"\n" + key + "\n" + meter + "\n" + tempo + "\n" + rows).diagnostics);
    };
    CHECK(codes_with("key C major", "meter 3/4", "tempo 120") == "");
    CHECK(codes_with("key C major", "meter 3/", "tempo 120") == "meter-unreadable");
    CHECK(codes_with("key C major", "meter three", "tempo 120") == "meter-unreadable");
    CHECK(codes_with("key H major", "meter 3/4", "tempo 120") == "key-unreadable");
    CHECK(codes_with("key C major", "meter 3/4", "tempo fast") == "tempo-unreadable");
    CHECK(codes_with("", "", "").rfind("no-meter no-tempo no-key ", 0) == 0);
    // In a section too.
    const auto in_the_middle = head() + "section A\nchanges | C |\nmeter 3/\nchanges | C / / |\n";
    CHECK(codes(read(in_the_middle).diagnostics) == "meter-unreadable");
}

TEST_CASE("Chords that could be read in several ways", "[tune]") {
    const Broken rows[] = {
        {in_section("changes | C F G7 |"), "chords-split-unclear", "A:1", "C F G7",
         "A:1 has 3 chords, which do not split its 4 beats evenly; say how long each lasts: C*2 F G7, C F*2 "
         "G7 "
         "or C F G7*2.",
         "C*2 F G7"},
        {in_section("changes | <Dm7 G7! |", "3/4"), "chords-split-unclear", "A:1", "<Dm7 G7!",
         "A:1 has 2 chords, which do not split its 3 beats evenly; say how long each lasts: <Dm7*2 G7! or "
         "<Dm7 G7*2!.",
         "<Dm7*2 G7!"},
        {in_section("changes | Dm7 G7 |", "7/8"), "chords-split-unclear", "A:1", "Dm7 G7",
         "A:1 has 2 chords, which do not split its 7 beats evenly; say how long each lasts: Dm7*4 G7*3 or "
         "Dm7*3 G7*4.",
         "Dm7*4 G7*3"},
        {in_section("changes | C Dm7 Em7 |", "6/8"), "chords-split-unclear", "A:1", "C Dm7 Em7",
         "A:1 has 3 chords, which do not split its 2 beats evenly; say how long each lasts: C*2/3 Dm7*2/3 "
         "Em7*2/3.",
         "C*2/3 Dm7*2/3 Em7*2/3"},
        {in_section("changes | C*1 F G7 |"), "chords-split-unclear", "A:1", "C*1 F G7",
         "In A:1 3 beats are left for 2 chords, which do not share them evenly; say how long each lasts, as "
         "in X*2.",
         "none"},
        {in_section("changes | C*2 / F |"), "chords-mixed-lengths", "A:1", "C*2 / F",
         "A:1 counts beats both with / and with *; use one of them.", "none"},
        {in_section("changes | C | / / F / |"), "slash-without-chord", "A:2.1", "/",
         "A:2 starts with /, which makes the chord before it one beat longer; write the chord.", "none"},
        {in_section("changes | C | / / / / |"), "slash-without-chord", "A:2.1", "/",
         "A:2 starts with /, which makes the chord before it one beat longer; write the chord.", "none"},
        {in_section("changes | % | C |"), "simile-without-bar", "A:1", "%",
         "% in A:1 has no bar before it to repeat; write the chords.", "none"},
        {in_section("changes | C |\nmeter 3/4\nchanges | % |"), "simile-without-bar", "A:2", "%",
         "% in A:2 repeats a bar of another length; write the chords.", "none"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("An unknown chord names its beat and the nearest spelling", "[tune]") {
    const auto text = in_section("changes | C | Dm7 Gmm7 |");
    const auto outcome = read(text);
    REQUIRE(codes(outcome.diagnostics) == "chord-unknown");
    const auto& said = outcome.diagnostics.front();
    CHECK(text::to_string(said.place) == "A:2.3");
    REQUIRE(!said.fixes.empty());
    CHECK(read(with_fix(text, said.fixes.front())).clean());
    // The bar stays a bar: two chords of two beats.
    REQUIRE(outcome.value->sections[0].bars[1].changes.size() == 2);
    CHECK(outcome.value->sections[0].bars[1].changes[1].chord.is_none());
}

TEST_CASE("Notes that do not fill their bar", "[tune]") {
    const Broken rows[] = {
        {in_section("changes | C | C |\nmelody | q C5 D5 E5 F5 G5 | w C5 |"), "bar-overfull", "A:1.5", "G5",
         "A:1 holds 5 beats, the meter asks for 4.", "none"},
        {in_section("changes | C |\nmelody | h. C5 h D5 |"), "bar-overfull", "A:1.4", "D5",
         "A:1 holds 5 beats, the meter asks for 4.", "q"},
        {in_section("changes | C |\nmelody | h C5 D5 E5 |"), "bar-overfull", "A:1.5", "E5",
         "A:1 holds 6 beats, the meter asks for 4.", "none"},
        {in_section("changes | C |\nmelody | q. C5 D5 E5 |"), "bar-overfull", "A:1.4", "E5",
         "A:1 holds 4 1/2 beats, the meter asks for 4.", "q "},
        {in_section("changes | C |\nmelody | h C5 q D5 |"), "bar-underfull", "A:1", "h C5 q D5",
         "A:1 holds 3 beats, the meter asks for 4.", " q r"},
        {in_section("changes | C |\nmelody | e. C5 |"), "bar-underfull", "A:1", "e. C5",
         "A:1 holds 3/4 of a beat, the meter asks for 4.", " h r q r s r"},
        {in_section("changes | C |\nbass | h. C3 h D3 |"), "bar-overfull", "A:1.4", "D3",
         "The bass of A:1 holds 5 beats, the meter asks for 4.", "q"},
        {in_section("changes | C |\nlong | h C5 q D5 |"), "bar-underfull", "A:1", "h C5 q D5",
         "The long row of A:1 holds 3 beats, the meter asks for 4.", " q r"},
        {in_section("changes | C |\nhits | q x x X |"), "hits-do-not-fill", "A:1", "q x x X",
         "The hits of A:1 hold 3 beats, the meter asks for 4.", " q r"},
        {in_section("changes | C |\nhits | q x x h. X |"), "hits-do-not-fill", "A:1.3", "X",
         "The hits of A:1 hold 5 beats, the meter asks for 4.", "h"},
        {in_section("changes | C |\nlong | C5 D5 E5 |"), "long-split-unclear", "A:1", "C5 D5 E5",
         "The 3 long notes of A:1 do not split its 4 beats evenly; write their durations.", "none"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Tuplets that are not filled", "[tune]") {
    const Broken rows[] = {
        {in_section("changes | C |\nmelody | h. C5 e [3:2 D5 E5] |"), "tuplet-length", "A:1", "[3:2 D5 E5",
         "The 3:2 group in A:1 holds 2 eighths, it needs 3.", "none"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Words that do not fit their notes", "[tune]") {
    const Broken rows[] = {
        {in_section("changes | C |\nmelody | h C5 D5 |\nlyrics | one two three four |"), "lyrics-too-long",
         "A:1", "three four", "A:1 has 4 syllables for 2 notes.", "none"},
        {in_section("changes | C | C |\nmelody | w C5~ | h C5 D5 |\nlyrics | one | two three |"),
         "lyrics-too-long", "A:2", "three", "A:2 has 2 syllables for 1 note.", "none"},
        {in_section("changes | C | F |\nmelody | w C5 | . |\nlyrics | one | two |"), "lyrics-without-notes",
         "A:2", "two", "The words of A:2 need a melody to stand under.", "none"},
    };
    for (const auto& row : rows) check(row);
}

TEST_CASE("Ties that lead nowhere or elsewhere", "[tune]") {
    const Broken rows[] = {
        {in_section("changes | C |\nmelody | h C5~ D5 |"), "tie-pitch", "A:1.1", "C5~",
         "The C5 is tied to D5; a tie joins notes of one pitch.", "C5"},
        {in_section("changes | C | F |\nmelody | h C5 C#5~ | w Db5 |"), "tie-pitch", "A:1.3", "C#5~",
         "The C#5 is tied to Db5, which is the same pitch under another name; use one name.", "Db5~"},
        {in_section("changes | C | F |\nmelody | w C5~ | h r C5 |"), "tie-into-nothing", "A:1.1", "C5~",
         "The C5 is tied, but no note follows it.", "C5"},
        {in_section("changes | C |\nmelody | w C5~ |"), "tie-into-nothing", "A:1.1", "C5~",
         "The C5 is tied, but no note follows it.", "C5"},
        {in_section("changes | C | F |\nbass | w C3~ | D3 |"), "tie-pitch", "A:1.1", "C3~",
         "The C3 is tied to D3; a tie joins notes of one pitch.", "C3"},
    };
    for (const auto& row : rows) check(row);
    // Into one of two endings, into an unknown bar, over the end of a section: all fine.
    for (const auto* text : {"changes |: C | [1 F :| ] [2 G7 ] |\nmelody | w C5~ | C5 | r |",
                             "changes | C | F |\nmelody | w C5~ | . |"})
        CHECK(codes(read(in_section(text)).diagnostics) == "");
    CHECK(codes(read(in_form("form A B\n", "melody | r r r r | w C5~ |\n", "melody | w C5 | C5 |\n"))
                    .diagnostics) == "");
}

TEST_CASE("Notes that no instrument plays", "[tune]") {
    // Piano has A0 to C8 (Encyclopaedia Britannica, piano: 88 keys); the table reaches no further.
    const Broken rows[] = {
        {in_section("changes | C |\nmelody | h C5 C9 |"), "note-out-of-range", "A:1.3", "C9",
         "C9 is higher than any instrument plays. Is the octave right?", "none"},
        {in_section("changes | C |\nbass | w C0 |"), "note-out-of-range", "A:1.1", "C0",
         "C0 is lower than any instrument plays. Is the octave right?", "none"},
    };
    for (const auto& row : rows) check(row);
    CHECK(codes(read(in_section("changes | C |\nmelody | h C8 E4 |")).diagnostics) == "");
}

TEST_CASE("What the reader of the text reported is not counted again", "[tune]") {
    // The unreadable note is missing from the sum; one thing is said, not two.
    CHECK(codes(read(in_section("changes | C |\nmelody | q C5 D5 Q E5 |")).diagnostics) == "note-unreadable");
}
