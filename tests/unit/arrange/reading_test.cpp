// compiler/arrange/reading.h, chord_spelling.h
#include "arrange/reading.h"

#include "arrange/chord_spelling.h"
#include "tunes.h"

namespace {

using namespace relead;

const theory::Instrument& instrument(const char* word) {
    const auto* found = theory::find_instrument(word);
    REQUIRE(found != nullptr);
    return *found;
}

theory::Key key_of(const char* tonic, theory::Mode mode) {
    return {*theory::parse_note_name(tonic), mode};
}

std::string spelled(const std::string& changes, const theory::Key& key) {
    std::vector<arrange::ChordToSpell> row;
    std::string word;
    for (const char c : changes + " ") {
        if (c != ' ') {
            word += c;
            continue;
        }
        row.push_back({*theory::parse_chord(word).chord, key});
        word.clear();
    }
    std::string text;
    for (const auto& chord : arrange::spell_chords(row)) {
        text += (text.empty() ? "" : " ") + theory::to_string(chord, theory::SymbolStyle::plain);
    }
    return text;
}

}  // namespace

// Written key = concert fifths + 2 or + 3, respelled beyond six (definition of fifths); majors agree with
// the key table of rodroger.com.
TEST_CASE("written keys") {
    struct Row {
        const char* tonic;
        int b_flat, e_flat;
    };
    const Row rows[] = {{"C", 2, 3},    {"F", 1, 2},    {"Bb", 0, 1},   {"Eb", -1, 0}, {"Ab", -2, -1},
                        {"Db", -3, -2}, {"Gb", -4, -3}, {"F#", -4, -3}, {"B", -5, -4}, {"E", 6, -5},
                        {"A", 5, 6},    {"D", 4, 5},    {"G", 3, 4},    {"Cb", -5, -4}};
    const tune::Tune empty;
    const auto tenor = arrange::reading_for(&instrument("tenor"), empty);
    const auto alto = arrange::reading_for(&instrument("alto"), empty);
    for (const auto& row : rows) {
        INFO(row.tonic);
        const auto key = key_of(row.tonic, theory::Mode::major);
        CHECK(arrange::read_key(tenor, key, false).signature.fifths == row.b_flat);
        CHECK(arrange::read_key(alto, key, false).signature.fifths == row.e_flat);
    }
}

TEST_CASE("written and sounding agree to the semitone whatever the spelling") {
    const tune::Tune empty;
    for (const auto& one : theory::instruments()) {
        const auto reading = arrange::reading_for(&one, empty);
        for (int fifths = -7; fifths <= 7; ++fifths) {
            const theory::Key key{{fifths}, theory::Mode::major};
            const auto read = arrange::read_key(reading, key, false);
            CHECK(read.written_to_sounding.semitones() == one.written_to_sounding.semitones());
            CHECK(theory::signature(theory::transpose(read.key, read.written_to_sounding)) == fifths);
            // The layer of theory works out the same keys on its own.
            const auto part = theory::part_key(key, one);
            CHECK(read.key == part.written);
            CHECK(read.written_to_sounding == part.written_to_sounding);
        }
    }
}

TEST_CASE("a tune's own seven flats stay for players who do not transpose") {
    const tune::Tune empty;
    const auto key = key_of("Ab", theory::Mode::minor);
    CHECK(arrange::read_key(arrange::reading_for(nullptr, empty), key, false).signature.fifths == -7);
    CHECK(arrange::read_key(arrange::reading_for(&instrument("trombone"), empty), key, false)
              .signature.fifths == -7);
}

TEST_CASE("modes and open keys") {
    const tune::Tune empty;
    const auto reading = arrange::reading_for(nullptr, empty);
    const auto dorian = arrange::read_key(reading, key_of("D", theory::Mode::dorian), false);
    CHECK(dorian.signature == score::KeySignature{0, "dorian"});
    CHECK(arrange::read_key(reading, key_of("F", theory::Mode::blues), false).signature.mode == "major");
    CHECK(arrange::read_key(reading, key_of("C", theory::Mode::major), true).signature.mode.empty());
}

TEST_CASE("slashes stand in the middle of the staff, in the key") {
    struct Row {
        theory::Clef clef;
        int fifths;
        const char* pitch;
    };
    const Row rows[] = {{theory::Clef::treble, 0, "B4"},  {theory::Clef::treble, -1, "Bb4"},
                        {theory::Clef::treble, 7, "B#4"}, {theory::Clef::bass, 0, "D3"},
                        {theory::Clef::bass, -4, "Db3"},  {theory::Clef::bass, 5, "D#3"}};
    for (const auto& row : rows) {
        CHECK(theory::to_string(arrange::slash_pitch(row.clef, {row.fifths, ""})) == row.pitch);
    }
}

TEST_CASE("the octave keeps a melody where the player is at home") {
    const auto tune =
        short_tune("form A\nsection A\nchanges | C | F |\nmelody | q C5 E5 G5 A5 | F5 E5 D5 C5 |\n");
    CHECK(arrange::reading_for(&instrument("alto"), tune).octaves == -1);  // A5 to F#6 would squeak
    CHECK(arrange::reading_for(&instrument("soprano"), tune).octaves == 0);
    CHECK(arrange::reading_for(&instrument("tenor"), tune).octaves == -1);  // sounds where a tenor sounds
    CHECK(arrange::reading_for(nullptr, tune).octaves == 0);
    for (const auto& one : theory::instruments()) {
        if (one.midi_program == 0) continue;
        const auto reading = arrange::reading_for(&one, tune);
        const auto key = arrange::read_key(reading, tune.key, false);
        const int low = theory::midi_number(arrange::read_pitch(reading, key, *theory::parse_pitch("C5")));
        const int high = theory::midi_number(arrange::read_pitch(reading, key, *theory::parse_pitch("A5")));
        INFO(one.id);
        CHECK(low >= one.low_written);
        CHECK(high <= one.high_written);
    }
}

// Half-step neighbours use neighbouring letters: common practice, no source.
TEST_CASE("chords in a row are spelled for reading") {
    struct Row {
        const char* tonic;
        const char* strict;
        const char* practical;
    };
    const Row rows[] = {
        {"D", "Am7 G#7 Gmaj7", "Am7 Ab7 Gmaj7"},      // concert Cm7 B7 Bbmaj7 on an alto
        {"G", "Dm7 C#7 Cmaj7", "Dm7 Db7 Cmaj7"},      // the same on a tenor
        {"G", "C#m7 F#7 Bm7 E7", "C#m7 F#7 Bm7 E7"},  // a ii and its V stay together
        {"Bb", "C#maj7 F#maj7", "Dbmaj7 Gbmaj7"},        {"C", "Cmaj7 C#dim7 Dm7", "Cmaj7 C#dim7 Dm7"},
        {"C", "G7 G#dim7 Am7", "G7 G#dim7 Am7"},         {"D", "B#7 Fbm7", "C7 Em7"},
        {"A", "F#m7 D#m7b5 Dmaj7", "F#m7 D#m7b5 Dmaj7"}, {"Db", "Cbmaj7", "Bmaj7"},
        {"Gb", "Cbmaj7 Fm7b5", "Cbmaj7 Fm7b5"},  // C flat belongs to G flat major
        {"C", "F##7 N.C. Abb7/Ebb", "G7 N.C. G7/D"},
    };
    for (const auto& row : rows) {
        INFO(row.strict);
        CHECK(spelled(row.strict, key_of(row.tonic, theory::Mode::major)) == row.practical);
    }
    CHECK(arrange::spell_chords({}).empty());
}

TEST_CASE("no part has a root with a double accidental or a stray white-key accidental") {
    for (int key = -6; key <= 6; ++key) {
        for (int root = -14; root <= 18; ++root) {
            const theory::Key tonic{{key}, theory::Mode::major};
            auto chord = *theory::parse_chord("C7").chord;
            chord.root = {root};
            const auto spelled_root = arrange::spell_chords({{chord, tonic}}).front().root;
            CHECK(theory::pitch_class(spelled_root) == theory::pitch_class(chord.root));
            CHECK(std::abs(theory::alteration(spelled_root)) <= 1);
            const auto name = theory::to_string(spelled_root);
            const bool stray = name == "Cb" || name == "Fb" || name == "E#" || name == "B#";
            CHECK((!stray || theory::is_diatonic(spelled_root, tonic)));
        }
    }
}

TEST_CASE("melody notes follow the chord's spelling and avoid what nobody reads") {
    const auto key = key_of("D", theory::Mode::major);
    const auto a_flat = *theory::parse_chord("Ab7").chord;
    const auto c_sharp = *theory::parse_chord("C#7").chord;
    const auto spell = [&](const char* pitch, const theory::Chord* chord, int shift) {
        return theory::to_string(arrange::spell_pitch(*theory::parse_pitch(pitch), key, chord, shift));
    };
    CHECK(spell("B#4", &a_flat, -12) == "C5");
    CHECK(spell("G#4", &a_flat, -12) == "Ab4");
    CHECK(spell("F##4", nullptr, 0) == "G4");
    CHECK(spell("Bbb4", nullptr, 0) == "A4");
    CHECK(spell("E#5", nullptr, 0) == "F5");
    CHECK(spell("E#5", &c_sharp, 0) == "E#5");
    CHECK(spell("F#4", &a_flat, 0) == "F#4");
}
