// Laws of what the band plays, over random tunes of all meters and feels: nothing sounds outside its time or
// range, the bass is one line, the hands never jump about, one chorus lasts a chorus, the same tune sounds
// the same, and the MIDI file has every note.
#include <algorithm>
#include <map>
#include <random>
#include <string>

#include "arrange/perform.h"
#include "formats/midi/write.h"
#include "support/catch.h"
#include "text/source.h"
#include "tune/lower.h"
#include "tune/unfold.h"

using namespace relead;
using Role = score::SoundingVoice::Role;

namespace {

template <std::size_t N>
std::string one_of(std::mt19937& random, const char* const (&words)[N]) {
    return words[random() % N];
}

constexpr const char* chord_words[] = {"Dm7",    "G7",        "Cmaj7",  "A7b9", "Fm6",    "Bb13",
                                       "Ebmaj9", "F#m7b5",    "B7alt",  "E",    "C7{D}",  "Ab/Bb",
                                       "N.C.",   "Dbmaj7#11", "C#dim7", "E5",   "Gsus4",  "C7sus4",
                                       "F/A",    "Gm(maj7)",  "Abm11",  "Caug", "G7#9#5", "C6/9"};

/// A bar of one, two or three chords, some of them pushed.
std::string bar_of_chords(std::mt19937& random, int beats) {
    const char* const pushes[] = {"", "", "", "", "<", "<<", ">"};
    const auto chord = [&] {
        const auto push = one_of(random, pushes);
        return push + one_of(random, chord_words);
    };
    if (beats < 3 || random() % 2 == 0) return chord();
    const int first = 1 + static_cast<int>(random() % static_cast<unsigned>(beats - 1));
    const auto opening = chord() + "*" + std::to_string(first) + " ";
    return opening + chord() + "*" + std::to_string(beats - first);
}

struct MeterRow {
    const char* text;
    int beats;
    const char* hits;
    const char* melody;
};
constexpr MeterRow meters[] = {
    {"4/4", 4, "q x e r X~ h X", "e r C5 D5 E5~ h E5"},
    {"3/4", 3, "q x r X", "[3:2 q C5 D5 E5] q r"},
    {"5/4", 5, "q. x e r h. X", "h C5 q. D5 e E5 q r"},
    {"7/8", 7, "q x e r h X", "e C5 D5 E5 h F5"},
    {"6/8", 2, "q. x X", "q. C5 e D5 E5 F5"},
    {"12/8", 4, "q. x r X x", "q. C5 D5 E5 e r C5 {B4} D5"},
    {"2/4", 2, "q x X", "q C5 {Bb4} D5"},
};

std::string random_tune(std::mt19937& random) {
    const auto& meter = meters[random() % std::size(meters)];
    const char* const feels[] = {"swing", "shuffle", "waltz", "ballad", "even",
                                 "bossa", "samba",   "latin", "funk",   "rubato"};
    const char* const marks[] = {".", ".", ".", ".", "fermata", "break", "ritard", "\"stop-time\""};
    std::string text = "tune \"Random\"\nkey " + one_of(random, {"C major", "F blues", "G minor", "open"}) +
                       "\nmeter " + meter.text;
    text += "\ntempo " + std::to_string(40 + random() % 300);
    text += " " + one_of(random, feels) +
            "\nform A B A\nrunning Head 2 times | Solos open | Head last, tag B:1-2 2 times\n";
    for (const char* name : {"A", "B"}) {
        std::string changes = "changes";
        std::string melody = "melody";
        std::string hits = "hits";
        std::string mark = "marks";
        if (*name == 'A' && random() % 3 == 0) melody += " e G4";
        for (int bar = 0; bar < 4; ++bar) {
            changes += " | " + bar_of_chords(random, meter.beats);
            melody += std::string(" | ") + (random() % 2 == 0 ? meter.melody : ".");
            hits += std::string(" | ") + (random() % 5 == 0 ? meter.hits : ".");
            mark += " | " + one_of(random, marks);
        }
        text += std::string("section ") + name + "\n" + changes + " |\n" + melody + " |\n" + hits + " |\n" +
                mark + " |\n";
    }
    return text;
}

tune::Tune read(const std::string& text) {
    const auto source = text::read_source("random.tune", text);
    REQUIRE(source.value);
    const auto tune = tune::read_tune(*source.value);
    for (const auto& said : tune.diagnostics)
        if (said.severity == Severity::error) UNSCOPED_INFO(said.sentence);
    REQUIRE(tune.clean());
    return *tune.value;
}

/// How often a file says note-on: status 9n with a velocity above zero is counted by walking its events.
std::size_t count_note_ons(const std::string& bytes) {
    std::size_t count = 0;
    std::size_t at = 14;
    while (at + 8 <= bytes.size()) {
        const auto byte = [&](std::size_t i) { return std::size_t{static_cast<unsigned char>(bytes[i])}; };
        std::size_t end =
            at + 8 + ((byte(at + 4) << 24U) | (byte(at + 5) << 16U) | (byte(at + 6) << 8U) | byte(at + 7));
        for (at += 8; at < end;) {
            while (byte(at) >= 0x80) ++at;  // delta time
            ++at;
            const auto status = byte(at);
            if (status == 0xFF) {
                REQUIRE(byte(at + 2) < 0x80);
                at += 3U + byte(at + 2);
            } else {
                count += status >> 4U == 9 ? 1 : 0;
                at += status >> 4U == 0xC ? 2 : 3;
            }
        }
    }
    return count;
}

void check_voice(const score::SoundingVoice& voice, Time length) {
    Time before;
    for (const auto& note : voice.notes) {
        CHECK(note.at >= before);
        CHECK(note.length > Time(0));
        CHECK(note.at + note.length <= length);
        if (voice.role == Role::comping) CHECK((note.key >= 52 && note.key <= 72));
        if (voice.role == Role::bass) CHECK((note.key >= 28 && note.key <= 50));
        before = note.at;
    }
    if (voice.role != Role::bass && voice.role != Role::melody) return;
    for (std::size_t i = 1; i < voice.notes.size(); ++i) {
        INFO(voice.name << " at " << voice.notes[i].at.to_string());
        CHECK(voice.notes[i - 1].at + voice.notes[i - 1].length <= voice.notes[i].at);
    }
}

std::size_t notes_in(const score::Performance& performance) {
    std::size_t count = 0;
    for (const auto& voice : performance.voices) {
        std::map<std::pair<int, long>, int> once;  // two strokes of one key at one moment are one note-on
        for (const auto& note : voice.notes)
            ++once[{note.key, std::lround(score::swung(performance, note.at) * 3840)}];
        count += once.size();
    }
    return count;
}

}  // namespace

TEST_CASE("What the band plays keeps to its time and range", "[arrange]") {
    std::mt19937 random(20);
    for (int round = 0; round < 300; ++round) {
        const auto text = random_tune(random);
        INFO(text);
        const auto tune = read(text);
        arrange::PerformWish wish;
        wish.guide_tones = round % 2 == 0;
        const auto performance = arrange::perform(tune, wish);
        for (const auto& voice : performance.voices) check_voice(voice, performance.length);
        CHECK(count_note_ons(formats::write_midi(performance)) == notes_in(performance));
        CHECK(formats::write_midi(performance) == formats::write_midi(arrange::perform(tune, wish)));

        wish.one_chorus = true;
        const auto chorus = arrange::perform(tune, wish);
        const auto bars = tune::one_chorus(tune);
        Time length;
        for (const auto& played : bars)
            length += tune.sections[static_cast<std::size_t>(played.section)]
                          .bars[static_cast<std::size_t>(played.bar)]
                          .length;
        CHECK(chorus.length == length);
        for (const auto& voice : chorus.voices) check_voice(voice, length);
    }
}

TEST_CASE("A soloist's row changes nothing that the band plays", "[arrange]") {
    std::mt19937 random(21);
    for (int round = 0; round < 50; ++round) {
        auto tune = read(random_tune(random));
        const auto plain = arrange::perform(tune);
        for (auto& section : tune.sections)
            for (auto& bar : section.bars) bar.soloist = bar.changes;
        for (auto& bar : tune.sections.front().bars)
            for (auto& chord : *bar.soloist) chord.chord = *theory::parse_chord("Db7").chord;
        const auto superimposed = arrange::perform(tune);
        CHECK(formats::write_midi(plain) == formats::write_midi(superimposed));
    }
}
