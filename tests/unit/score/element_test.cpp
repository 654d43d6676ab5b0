// compiler/score/element.h, dump.h
#include "score/dump.h"
#include "support/catch.h"

using namespace relead;

TEST_CASE("a notated value has its length") {
    struct Row {
        score::NoteValue value;
        Time length;
    };
    const Row rows[] = {
        {{1, 0}, {1, 1}}, {{2, 1}, {3, 4}}, {{4, 2}, {7, 16}}, {{8, 0}, {1, 8}}, {{16, 1}, {3, 32}}};
    for (const auto& row : rows) CHECK(row.value.length() == row.length);
}

TEST_CASE("the dump of a measure names what stands in it") {
    score::Measure measure;
    measure.number = "7";
    measure.length = 1;
    measure.time = score::TimeSignature{4, 4, {}};
    measure.key = score::KeySignature{-1, "major"};
    measure.repeat_begins = true;
    score::Element note;
    note.value = {2, 1};
    note.length = {3, 4};
    score::Head head;
    head.pitch = *theory::parse_pitch("Bb4");
    head.tie_begins = true;
    note.heads.push_back(head);
    score::Element rest;
    rest.kind = score::Element::Kind::rest;
    rest.at = {3, 4};
    rest.length = {1, 4};
    measure.voices.push_back({1, 1, {note, rest}});
    score::Harmony harmony;
    harmony.chord = *theory::parse_chord("C7").chord;
    harmony.changed = true;
    measure.harmonies.push_back(harmony);
    CHECK(score::dump(measure) == "7 key -1 major 4/4 |:  | C7@0*  : h. Bb4~ q r\n");
}
