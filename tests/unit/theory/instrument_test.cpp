// grammar/instruments.txt, compiler/theory/instrument.cpp
#include "theory/instrument.h"

#include <set>

#include "unit/theory/chords.h"

using namespace relead::theory;
using relead::theory::test::note;

namespace {

const Instrument& instrument(std::string_view id) {
    const Instrument* const found = find_instrument(id);
    INFO("instrument " << id);
    REQUIRE(found != nullptr);
    return *found;
}

int midi(std::string_view pitch) {
    return midi_number(*parse_pitch(pitch));
}

}  // namespace

TEST_CASE("transpositions, ranges and sounds") {
    struct Row {
        const char* id;
        int steps, semitones;  // whole, octaves included
        const char *low, *high, *sounding_low, *sounding_high, *sound;
        int program;
        const char* source;
    };
    // Transpositions: music21, instrument.py; guitar: W3C MusicXML 4.0, element octave-change. Sounds: W3C
    // MusicXML 4.0, sounds.xml. Programs: General MIDI, counted from 1 as in midi-program.
    const Row rows[] = {
        {"soprano-sax", -1, -2, "Bb3", "F6", "Ab3", "Eb6", "wind.reed.saxophone.soprano", 65,
         "johndcook.com"},
        {"alto-sax", -5, -9, "Bb3", "F6", "Db3", "Ab5", "wind.reed.saxophone.alto", 66,
         "Wikipedia; johndcook.com"},
        {"tenor-sax", -8, -14, "Bb3", "F6", "Ab2", "Eb5", "wind.reed.saxophone.tenor", 67, "johndcook.com"},
        {"baritone-sax", -12, -21, "A3", "F6", "C2", "Ab4", "wind.reed.saxophone.baritone", 68,
         "Wikipedia; low A"},
        {"trumpet", -1, -2, "F#3", "C6", "E3", "Bb5", "brass.trumpet.bflat", 57,
         "music21; studystack.com 697185"},
        {"flugelhorn", -1, -2, "F#3", "C6", "E3", "Bb5", "brass.flugelhorn", 57, "common practice"},
        {"trombone", 0, 0, "E2", "Bb4", "E2", "Bb4", "brass.trombone.tenor", 58, "music21; spiegato.com"},
        {"bass-trombone", 0, 0, "Bb1", "F4", "Bb1", "F4", "brass.trombone.bass", 58, "music21; spiegato.com"},
        {"guitar", -7, -12, "E3", "E6", "E2", "E5", "pluck.guitar.electric", 27, "studystack.com 697185"},
        {"piano", 0, 0, "A0", "C8", "A0", "C8", "keyboard.piano", 1, "music21"},
        {"bass", -7, -12, "E2", "G4", "E1", "G3", "pluck.bass.acoustic", 33,
         "music21; studystack.com 697185"},
        {"clarinet", -1, -2, "E3", "C7", "D3", "Bb6", "wind.reed.clarinet.bflat", 72, "orchestralibrary.com"},
        {"flute", 0, 0, "C4", "C7", "C4", "C7", "wind.flutes.flute", 74, "orchestralibrary.com"},
        {"vibraphone", 0, 0, "F3", "F6", "F3", "F6", "pitched-percussion.vibraphone", 12,
         "studystack.com 697185"},
        {"voice", 0, 0, "G3", "D5", "G3", "D5", "voice.vocals", 54, "from memory"}};
    for (const auto& row : rows) {
        INFO(row.id << ", range: " << row.source);
        const Instrument& of = instrument(row.id);
        CHECK(of.written_to_sounding.steps() == row.steps);
        CHECK(of.written_to_sounding.semitones() == row.semitones);
        CHECK(of.low_written == midi(row.low));
        CHECK(of.high_written == midi(row.high));
        CHECK(of.low_written + row.semitones == midi(row.sounding_low));
        CHECK(of.high_written + row.semitones == midi(row.sounding_high));
        CHECK(of.sound == row.sound);
        CHECK(of.midi_program == row.program);
    }
    CHECK(instrument("drums").clef == Clef::percussion);
    CHECK(instrument("drums").midi_program == 0);
}

TEST_CASE("written notes sound where they should") {
    struct Row {
        const char *id, *written, *sounding;
    };
    const Row rows[] = {
        {"alto-sax", "C5", "Eb4"}, {"alto-sax", "F#4", "A3"},      {"tenor-sax", "C5", "Bb3"},
        {"tenor-sax", "D4", "C3"}, {"baritone-sax", "C5", "Eb3"},  {"baritone-sax", "A3", "C2"},
        {"trumpet", "C5", "Bb4"},  {"guitar", "E4", "E3"},         {"bass", "E2", "E1"},
        {"horn", "G4", "C4"},      {"bass-clarinet", "C5", "Bb3"}, {"concert", "C4", "C4"}};
    for (const auto& row : rows) {
        INFO(row.id << ' ' << row.written);
        CHECK(to_string(*parse_pitch(row.written) + instrument(row.id).written_to_sounding) == row.sounding);
    }
}

TEST_CASE("every row of the table is plausible") {
    std::set<std::string_view> ids;
    for (const auto& of : instruments()) {
        INFO(of.id);
        CHECK(ids.insert(of.id).second);
        CHECK(of.low_written <= of.low_comfortable);
        CHECK(of.low_comfortable < of.high_comfortable);
        CHECK(of.high_comfortable <= of.high_written);
        CHECK(of.midi_program >= 0);
        CHECK(of.midi_program <= 128);
        CHECK_FALSE(of.name.empty());
        CHECK_FALSE(of.abbreviation.empty());
        CHECK(find_instrument(of.id) == &of);
        CHECK(find_instrument(of.name) == &of);
    }
    CHECK(ids.size() >= 24);
}

TEST_CASE("instruments are found by id, name and alias, in any case") {
    struct Row {
        const char *word, *id;
    };
    const Row rows[] = {
        {"alto", "alto-sax"},     {"Alto Sax", "alto-sax"},   {"ALTO-SAX", "alto-sax"},
        {"bari", "baritone-sax"}, {"A. Sx.", "alto-sax"},     {"tpt", "trumpet"},
        {"Flugel", "flugelhorn"}, {"double bass", "bass"},    {"vibes", "vibraphone"},
        {"C", "concert"},         {"bass clef", "bass-clef"}, {"bass clarinet", "bass-clarinet"}};
    for (const auto& row : rows) {
        INFO(row.word);
        REQUIRE(find_instrument(row.word) != nullptr);
        CHECK(find_instrument(row.word)->id == row.id);
    }
    CHECK(find_instrument("kazoo") == nullptr);
    CHECK(find_instrument("") == nullptr);
    CHECK(nearest_instrument("saxalto-sax") == "alto-sax");
    CHECK(nearest_instrument("trumpte") == "trumpet");
    CHECK(nearest_instrument("alto-sx") == "alto-sax");
    CHECK(nearest_instrument("kazoo").empty());
    CHECK(nearest_instrument("").empty());
    CHECK(nearest_instrument("x").empty());
}

TEST_CASE("part keys of B flat and E flat instruments") {
    struct Row {
        const char* concert;
        Mode mode;
        const char *b_flat, *e_flat;
        int b_flat_fifths, e_flat_fifths;
    };
    // Definition: concert signature + 2 or + 3, respelled beyond six sharps. Majors agree with the key table
    // of rodroger.com; MusicXML's `transpose` then takes one step more (W3C MusicXML 4.0, element transpose).
    const Row rows[] = {{"C", Mode::major, "D", "A", 2, 3},      {"F", Mode::major, "G", "D", 1, 2},
                        {"Bb", Mode::major, "C", "G", 0, 1},     {"Eb", Mode::major, "F", "C", -1, 0},
                        {"Ab", Mode::major, "Bb", "F", -2, -1},  {"Db", Mode::major, "Eb", "Bb", -3, -2},
                        {"Gb", Mode::major, "Ab", "Eb", -4, -3}, {"F#", Mode::major, "Ab", "Eb", -4, -3},
                        {"B", Mode::major, "Db", "Ab", -5, -4},  {"E", Mode::major, "F#", "Db", 6, -5},
                        {"A", Mode::major, "B", "F#", 5, 6},     {"D", Mode::major, "E", "B", 4, 5},
                        {"G", Mode::major, "A", "E", 3, 4},      {"A", Mode::minor, "B", "F#", 2, 3},
                        {"D", Mode::minor, "E", "B", 1, 2},      {"C", Mode::minor, "D", "A", -1, 0},
                        {"Eb", Mode::minor, "F", "C", -4, -3},   {"D#", Mode::minor, "F", "C", -4, -3},
                        {"G#", Mode::minor, "Bb", "F", -5, -4},  {"C#", Mode::minor, "D#", "Bb", 6, -5},
                        {"F#", Mode::minor, "G#", "D#", 5, 6}};
    for (const auto& row : rows) {
        const Key concert{note(row.concert), row.mode};
        INFO("concert " << to_string(concert));
        for (const char* id : {"trumpet", "tenor-sax", "clarinet"}) {
            const PartKey part = part_key(concert, instrument(id));
            CHECK(to_string(part.written.tonic) == row.b_flat);
            CHECK(signature(part.written) == row.b_flat_fifths);
            CHECK(transpose(part.written, part.written_to_sounding) == concert);
            CHECK(part.written_to_sounding.semitones() == instrument(id).written_to_sounding.semitones());
        }
        for (const char* id : {"alto-sax", "baritone-sax"}) {
            const PartKey part = part_key(concert, instrument(id));
            CHECK(to_string(part.written.tonic) == row.e_flat);
            CHECK(signature(part.written) == row.e_flat_fifths);
            CHECK(transpose(part.written, part.written_to_sounding) == concert);
        }
    }
}

TEST_CASE("the interval of a respelled part") {
    // Concert B for a B flat part in D flat: two staff steps; concert E for alto in D flat: six.
    const PartKey trumpet = part_key({note("B"), Mode::major}, instrument("trumpet"));
    CHECK(trumpet.written_to_sounding.steps() == -2);
    CHECK(trumpet.written_to_sounding.semitones() == -2);
    const PartKey alto = part_key({note("E"), Mode::major}, instrument("alto-sax"));
    CHECK(alto.written_to_sounding.steps() == -6);
    CHECK(alto.written_to_sounding.semitones() == -9);
    CHECK(to_string(*parse_pitch("Db5") + alto.written_to_sounding) == "E4");
    // Instruments that read concert names keep the tune's own key.
    CHECK(to_string(part_key({note("C#"), Mode::major}, instrument("flute")).written) == "C# major");
    CHECK(to_string(part_key({note("Cb"), Mode::major}, instrument("guitar")).written) == "Cb major");
    CHECK(to_string(part_key({note("F"), Mode::blues}, instrument("horn")).written) == "C blues");
    CHECK(to_string(part_key({note("D"), Mode::dorian}, instrument("alto-sax")).written) == "B dorian");
}

TEST_CASE("chords of a respelled part follow its key") {
    // Concert B major: the E flat part is written in A flat, so the dominant is E flat 7, not D sharp 7.
    const PartKey part = part_key({note("B"), Mode::major}, instrument("alto-sax"));
    CHECK(to_string(transpose(relead::theory::test::chord("F#7"), -part.written_to_sounding)) == "Eb7");
}
