// compiler/tune/lower*.cpp: what a text says as a tune.
#include "unit/tune/reading.h"

using namespace relead;
using namespace relead::tune;
using namespace relead::tune::testing;

namespace {

/// Chords of a bar as "C@0+1/2 F@1/2+1/2".
std::string chords(const std::vector<ChordEvent>& events) {
    static constexpr const char* pushes[] = {"", "<", "<<", ">"};
    std::string text;
    for (const auto& event : events)
        text += (text.empty() ? "" : " ") + std::string(pushes[static_cast<int>(event.push)]) +
                theory::to_string(event.chord) + (event.locked ? "!" : "") + '@' + event.at.to_string() +
                '+' + event.length.to_string();
    return text;
}

std::string first_bar(const std::string& cell, const std::string& meter) {
    const auto tune = tune_of(in_section("changes | " + cell + " |", meter));
    return chords(bar_of(tune, 0).changes);
}

std::string notes(const std::vector<NoteEvent>& events) {
    std::string text;
    for (const auto& event : events)
        text += (text.empty() ? "" : " ") +
                (event.kind == NoteEvent::Kind::note   ? theory::to_string(event.pitch)
                 : event.kind == NoteEvent::Kind::rest ? std::string("r")
                                                       : std::string("?")) +
                (event.tied_to_next ? "~@" : "@") + event.at.to_string() + '+' + event.length.to_string();
    return text;
}

}  // namespace

TEST_CASE("Chords share the beats of their bar", "[tune]") {
    struct Row {
        const char* meter;
        const char* cell;
        const char* expected;
    };
    const Row rows[] = {
        {"4/4", "C", "C@0+1"},
        {"4/4", "C F", "C@0+1/2 F@1/2+1/2"},
        {"4/4", "C F G7 C", "C@0+1/4 F@1/4+1/4 G7@1/2+1/4 C@3/4+1/4"},
        {"4/4", "C F G7 C C F G7 C",
         "C@0+1/8 F@1/8+1/8 G7@1/4+1/8 C@3/8+1/8 C@1/2+1/8 F@5/8+1/8 G7@3/4+1/8 C@7/8+1/8"},
        {"4/4", "C / / F", "C@0+3/4 F@3/4+1/4"},
        {"4/4", "C F / /", "C@0+1/4 F@1/4+3/4"},
        {"4/4", "C*3 F", "C@0+3/4 F@3/4+1/4"},
        {"4/4", "C*3/2 F*5/2", "C@0+3/8 F@3/8+5/8"},
        {"4/4", "C*2 F G7", "C@0+1/2 F@1/2+1/4 G7@3/4+1/4"},
        {"4/4", "<Dm7 <<G7! >C N.C.", "<Dm7@0+1/4 <<G7!@1/4+1/4 >C@1/2+1/4 N.C.@3/4+1/4"},
        {"3/4", "C*2 F", "C@0+1/2 F@1/2+1/4"},
        {"3/4", "C F G7", "C@0+1/4 F@1/4+1/4 G7@1/2+1/4"},
        {"6/8", "C F", "C@0+3/8 F@3/8+3/8"},
        {"12/8", "C / / F", "C@0+9/8 F@9/8+3/8"},
        {"6/8", "C*1/3 F*5/3", "C@0+1/8 F@1/8+5/8"},
        {"2/2", "C F", "C@0+1/2 F@1/2+1/2"},
        {"7/8 2+2+3", "C F G7", "C@0+1/4 F@1/4+1/4 G7@1/2+3/8"},
        {"5/4 3+2", "C F", "C@0+3/4 F@3/4+1/2"},
        {"5/4", "C / / F /", "C@0+3/4 F@3/4+1/2"},
        {"3/8", "C F G7", "C@0+1/8 F@1/8+1/8 G7@1/4+1/8"},
    };
    for (const auto& row : rows) {
        INFO(row.cell);
        CHECK(first_bar(row.cell, row.meter) == row.expected);
    }
}

TEST_CASE("% repeats the bar before", "[tune]") {
    const auto tune = tune_of(in_section("changes | <Dm7 G7! | % | % |\nossia | . | Db7 | % |"));
    CHECK(chords(bar_of(tune, 1).changes) == "Dm7@0+1/2 G7!@1/2+1/2");
    CHECK(bar_of(tune, 1).simile);
    CHECK(chords(bar_of(tune, 2).changes) == chords(bar_of(tune, 1).changes));
    CHECK(chords(*bar_of(tune, 2).ossia) == "Db7@0+1");
    CHECK(!bar_of(tune, 0).ossia);
}

TEST_CASE("Durations hold until changed, bar over bar and row over row", "[tune]") {
    const auto tune =
        tune_of(in_section("changes | C | F |\nmelody | C5 D5 E5 F5 | e G5 A5 h. r |\n"
                           "changes | G7 | C |\nmelody | G5 q r | . |\n"
                           "changes | C | C |\nmelody | ? | ? h C5 q ? |"));
    CHECK(notes(*bar_of(tune, 0).melody) == "C5@0+1/4 D5@1/4+1/4 E5@1/2+1/4 F5@3/4+1/4");
    CHECK(notes(*bar_of(tune, 1).melody) == "G5@0+1/8 A5@1/8+1/8 r@1/4+3/4");
    CHECK(notes(*bar_of(tune, 2).melody) == "G5@0+3/4 r@3/4+1/4");
    CHECK(!bar_of(tune, 3).melody);
    CHECK(!bar_of(tune, 4).melody);
    CHECK(notes(*bar_of(tune, 5).melody) == "?@0+1/4 C5@1/4+1/2 ?@3/4+1/4");
    // Every section begins with quarters again.
    const auto two =
        tune_of(in_form("form A B\n", "melody | w C5 | D5 |\n", "melody | C5 D5 E5 F5 | w C5 |\n"));
    CHECK(bar_of(two, 0, 1).melody->size() == 4);
}

TEST_CASE("Dots, tuplets, ties, slurs and grace notes", "[tune]") {
    const auto tune =
        tune_of(in_section("changes | C | F |\nmelody | q.. C5 s D5 [3:2 q E5 e F5] q ({A5 Bb5} G5~ | h G5) "
                           "[3:2 q C5 D5 E5] |"));
    const auto& melody = *bar_of(tune, 0).melody;
    REQUIRE(melody.size() == 5);
    CHECK(melody[0].length == Time(7, 16));
    CHECK(melody[0].value == NoteValue{4, 2});
    CHECK(melody[2].length == Time(1, 6));
    CHECK(melody[2].tuplet == Tuplet{3, 2, true, false});
    CHECK(melody[3].length == Time(1, 12));
    CHECK(melody[3].tuplet == Tuplet{3, 2, false, true});
    CHECK(melody[4].at == Time(3, 4));
    CHECK(melody[4].slurs_begin == 1);
    CHECK(melody[4].tied_to_next);
    REQUIRE(melody[4].grace.size() == 2);
    CHECK(theory::to_string(melody[4].grace[1]) == "Bb5");
    CHECK(bar_of(tune, 1).melody->front().slurs_end == 1);
    CHECK((*bar_of(tune, 1).melody)[1].length == Time(1, 6));
}

TEST_CASE("Nested tuplets multiply", "[tune]") {
    const auto tune = tune_of(in_section("changes | C |\nmelody | [3:2 q C5 [3:2 e D5 E5 F5] q G5] h C5 |"));
    const auto& melody = *bar_of(tune, 0).melody;
    REQUIRE(melody.size() == 6);
    CHECK(melody[0].length == Time(1, 6));
    CHECK(melody[0].tuplet->begins);
    CHECK(!melody[0].outer_tuplet);
    CHECK(melody[1].length == Time(1, 18));
    CHECK(melody[1].tuplet->begins);
    CHECK(!melody[1].outer_tuplet->begins);
    CHECK(melody[3].tuplet->ends);
    CHECK(melody[4].tuplet->ends);
    CHECK(melody[5].at == Time(1, 2));
}

TEST_CASE("Long notes split the bar unless they say durations", "[tune]") {
    const auto tune =
        tune_of(in_section("changes | C | F | G7 | C |\nlong | C5 | C5 D5 | h. C5 q D5 | E5 |"));
    CHECK(notes(*bar_of(tune, 0).longs) == "C5@0+1");
    CHECK(bar_of(tune, 0).longs->front().value == NoteValue{1, 0});
    CHECK(notes(*bar_of(tune, 1).longs) == "C5@0+1/2 D5@1/2+1/2");
    CHECK(notes(*bar_of(tune, 2).longs) == "C5@0+3/4 D5@3/4+1/4");
    CHECK(notes(*bar_of(tune, 3).longs) == "E5@0+1");
    const auto five = tune_of(in_section("changes | C |\nlong | C5 |", "5/4"));
    CHECK(notes(*bar_of(five, 0).longs) == "C5@0+5/4");
}

TEST_CASE("A pickup is as long as its notes, or as its chords", "[tune]") {
    const auto tune = tune_of(in_section("changes G7 | C | F |\nmelody e C5 D5 E5 | w C5 | F5 |"));
    const auto& pickup = bar_of(tune, 0);
    CHECK(pickup.number == 0);
    CHECK(pickup.length == Time(3, 8));
    CHECK(chords(pickup.changes) == "G7@0+3/8");
    CHECK(bar_of(tune, 1).number == 1);
    CHECK(notes(*bar_of(tune, 1).melody) == "C5@0+1");
    const auto plain = tune_of(in_section("changes Dm7 G7 | C |"));
    CHECK(bar_of(plain, 0).length == Time(1, 2));
    const auto stated = tune_of(in_section("changes G7*3 | C |"));
    CHECK(bar_of(stated, 0).length == Time(3, 4));
    CHECK(tune_of(in_section("changes | C |\nmelody q C5 | w D5 |")).sections[0].bars[0].changes.empty());
}

TEST_CASE("Key, meter and tempo hold from their row group to the end of the section", "[tune]") {
    const auto tune =
        tune_of(head("form A B\n") +
                "section A\nkey D minor\nchanges | Dm |\nkey F major\nmeter 3/4\ntempo 90 waltz\n"
                "changes | F | C7 |\nsection B\nchanges | C |\n");
    const auto& a = tune.sections[0];
    CHECK(theory::to_string(a.key) == "D minor");
    CHECK(!a.bars[0].new_key);
    CHECK(theory::to_string(*a.bars[1].new_key) == "F major");
    CHECK(a.bars[1].new_meter->beats == 3);
    CHECK(a.bars[2].length == Time(3, 4));
    CHECK(!a.bars[2].new_meter);
    CHECK(a.bars[1].new_tempo->feel == "waltz");
    CHECK(theory::to_string(key_at(a, 0)) == "D minor");
    CHECK(theory::to_string(key_at(a, 2)) == "F major");
    CHECK(theory::to_string(tune.sections[1].key) == "C major");
    CHECK(tune.sections[1].bars[0].length == Time(1));
}

TEST_CASE("An open key claims no tonic", "[tune]") {
    auto text = in_section("changes | Dm7 |");
    text.replace(text.find("key C major"), 11, "key open");
    const auto tune = tune_of(text);
    CHECK(tune.open_key);
    CHECK(!tune.given_key);
    CHECK(theory::signature(tune.key) == 0);
}

TEST_CASE("Hits and marks", "[tune]") {
    const auto tune = tune_of(
        in_section("changes | C | F |\nhits | q. x e X~ h X | . |\nmarks | \"fill\" fermata | a tempo |"));
    const auto& hits = *bar_of(tune, 0).hits;
    REQUIRE(hits.size() == 3);
    CHECK(hits[0].kind == HitEvent::Kind::brief);
    CHECK(hits[1].tied_to_next);
    CHECK(hits[2].length == Time(1, 2));
    CHECK(!bar_of(tune, 1).hits);
    REQUIRE(bar_of(tune, 0).marks.size() == 2);
    CHECK(bar_of(tune, 0).marks[0].text == "fill");
    CHECK(bar_of(tune, 1).marks[0].kind == Mark::Kind::a_tempo);
}

TEST_CASE("Syllables stand on the notes that are struck", "[tune]") {
    const auto tune =
        tune_of(in_section("changes | C | F | G7 |\nmelody | q r C5 D5 E5~ | E5 {A5} F5 G5 A5 | w G5 |\n"
                           "lyrics | light on the | wa- ter _ | _ |\nlyrics | sun | . | low |"));
    const auto& first = bar_of(tune, 0).lyrics;
    REQUIRE(first.size() == 2);
    REQUIRE(first[0].size() == 3);
    CHECK(first[0][0].note == 1);
    CHECK(first[0][2].note == 3);
    CHECK(first[0][2].part == Syllable::Part::single);
    const auto& second = bar_of(tune, 1).lyrics[0];
    REQUIRE(second.size() == 2);
    CHECK(second[0].note == 1);
    CHECK(second[0].part == Syllable::Part::begin);
    CHECK(second[1].part == Syllable::Part::end);
    CHECK(second[1].extends);
    CHECK(second[1].held == 2);
    CHECK(bar_of(tune, 2).lyrics[0].empty());
    CHECK(bar_of(tune, 2).lyrics[1][0].text == "low");
}

TEST_CASE("The version stamp on top is read", "[tune]") {
    const auto tune = tune_of("-- version \"mild\" 3f9a21c0 (Friday)\n" + in_section("changes | C |"));
    REQUIRE(tune.stamp);
    CHECK(tune.stamp->plan == "mild");
    CHECK(tune.stamp->hash == "3f9a21c0");
    CHECK(tune.stamp->date == "Friday");
    CHECK(!tune_of("-- version two of this\n" + in_section("changes | C |")).stamp);
    CHECK(!tune_of("-- version \"mild\" nothex00\n" + in_section("changes | C |")).stamp);
    CHECK(tune_of("-- version \"a \\\"b\\\"\" 00000000\n" + in_section("changes | C |")).stamp->plan ==
          "a \"b\"");
}

TEST_CASE("A missing key is the one of the estimate, and sections take it", "[tune]") {
    const text::Source source(
        "test.tune", "tune \"T\"\nsection A\nchanges | F7 |\nsection B\nkey C minor\nchanges | Cm |\n");
    const auto tune = read_tune(source, {}, [](const Tune&) {
        return theory::Key{*theory::parse_note_name("E"), theory::Mode::minor};
    });
    REQUIRE(tune.value);
    CHECK_FALSE(tune.value->given_key);
    CHECK(theory::to_string(tune.value->key) == "E minor");
    CHECK(theory::to_string(tune.value->sections[0].key) == "E minor");
    CHECK(theory::to_string(tune.value->sections[1].key) == "C minor");
    CHECK(theory::to_string(read_tune(source).value->key) == "C major");
}

TEST_CASE("Addresses read and print alike", "[tune]") {
    for (const auto* text : {"A:7", "A:7.3", "A:1-4", "Verse:12.2+1/2", "B:1-1000"}) {
        const auto address = parse_address(text);
        REQUIRE(address);
        CHECK(to_string(*address) == text);
    }
    CHECK(*parse_address("A:7.5/2")->beat == Beats(5, 2));
    for (const auto* text :
         {"", "A", "A:", ":7", "A:0", "A:4-1", "A:1.0", "A:-1", "A:x", "A:1-2.3", "A:99999999999"})
        CHECK(!parse_address(text));
    const auto range = *parse_address("A:2-4");
    CHECK(range.covers("A", 2));
    CHECK(range.covers("A", 4));
    CHECK(!range.covers("A", 5));
    CHECK(!range.covers("B", 3));
}

TEST_CASE("Written chords and their places", "[tune]") {
    const auto tune = tune_of(in_form("form A B\n"));
    const auto refs = written_chords(tune);
    REQUIRE(refs.size() == 4);
    CHECK(theory::to_string(chord_at(tune, refs[2]).chord) == "G7");
    CHECK(text::to_string(place_of(tune, refs[2])) == "B:1.1");
    CHECK(find_section(tune, "B") == 1);
    CHECK(!find_section(tune, "C"));
}

TEST_CASE("Every event knows the bytes that it was read from", "[tune]") {
    const auto text = in_section("changes | Dm7 <G7! |\nmelody | h (C5~ C5) |\nhits | w X |");
    const text::Source source("test.tune", text);
    const auto tune = tune_of(text);
    const auto& bar = bar_of(tune, 0);
    CHECK(source.slice(bar.changes[1].span) == "<G7!");
    CHECK(source.slice(bar.melody->front().span) == "C5~");
    CHECK(source.slice(bar.hits->front().span) == "X");
    CHECK(source.slice(bar.span) == "Dm7 <G7!");
    CHECK(source.slice(tune.sections[0].span) == "section A");
}
