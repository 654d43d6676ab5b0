// compiler/formats/midi: bytes of Standard MIDI Files (MIDI Manufacturers Association, RP-001).
#include <string>

#include "formats/midi/bytes.h"
#include "formats/midi/track.h"
#include "formats/midi/write.h"
#include "support/catch.h"

using namespace relead;
using namespace relead::formats;
using namespace relead::formats::midi;
using score::SoundingVoice;

namespace {

std::string hex(const std::string& bytes) {
    constexpr const char* digits = "0123456789ABCDEF";
    std::string text;
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        if (!text.empty()) text += ' ';
        text += digits[byte >> 4U];
        text += digits[byte & 15U];
    }
    return text;
}

score::Performance empty_performance() {
    score::Performance performance;
    performance.title = "Slip";
    performance.length = 1;
    performance.tempi = {{0, 120}};
    performance.meters = {{0, 4, 4}};
    return performance;
}

/// The notes of one voice as the events of its track, without the chunk's eight bytes.
std::string events(const std::vector<score::SoundingNote>& notes, double swing = 0.5) {
    auto performance = empty_performance();
    performance.swing = swing;
    Track track;
    track.notes(2, performance, notes);
    return hex(track.close(0).substr(8));
}

}  // namespace

TEST_CASE("Variable-length quantities", "[midi]") {
    // The table of RP-001, "Conventions".
    const struct {
        std::uint32_t number;
        const char* bytes;
    } rows[] = {
        {0x00000000, "00"},          {0x00000040, "40"},          {0x0000007F, "7F"},
        {0x00000080, "81 00"},       {0x00002000, "C0 00"},       {0x00003FFF, "FF 7F"},
        {0x00004000, "81 80 00"},    {0x00100000, "C0 80 00"},    {0x001FFFFF, "FF FF 7F"},
        {0x00200000, "81 80 80 00"}, {0x08000000, "C0 80 80 00"}, {0x0FFFFFFF, "FF FF FF 7F"},
    };
    for (const auto& row : rows) CHECK(hex(variable_length(row.number)) == row.bytes);
    CHECK(hex(variable_length(0x10000000)) == "FF FF FF 7F");
}

TEST_CASE("Chunks and meta events carry their length", "[midi]") {
    CHECK(hex(chunk("MTrk", "abc")) == "4D 54 72 6B 00 00 00 03 61 62 63");
    CHECK(hex(meta_event(0x2F, "")) == "FF 2F 00");
    CHECK(hex(meta_event(0x03, std::string(200, 'x')).substr(0, 4)) == "FF 03 81 48");
    CHECK(hex(big_endian(0x0102, 4)) == "00 00 01 02");
}

TEST_CASE("A note-off comes before a note-on of the same tick", "[midi]") {
    CHECK(events({{0, {1, 4}, 60, 80}, {{1, 4}, {1, 4}, 60, 90}}) ==
          "00 92 3C 50 87 40 82 3C 40 00 92 3C 5A 87 40 82 3C 40 00 FF 2F 00");
}

TEST_CASE("No key sounds twice at once on a channel", "[midi]") {
    // The first is let go when the second is struck; its own end is gone.
    CHECK(events({{0, 1, 60, 80}, {{1, 4}, {1, 4}, 60, 90}}) ==
          "00 92 3C 50 87 40 82 3C 40 00 92 3C 5A 87 40 82 3C 40 00 FF 2F 00");
    // Two at once are one, the louder and the longer.
    CHECK(events({{0, {1, 8}, 60, 80}, {0, {1, 4}, 60, 70}}) == "00 92 3C 50 87 40 82 3C 40 00 FF 2F 00");
    // Nothing lasts no time.
    CHECK(events({{0, 0, 60, 80}}) == "00 92 3C 50 01 82 3C 40 00 FF 2F 00");
}

TEST_CASE("Swing is worked into the ticks", "[midi]") {
    // The second eighth of a quarter at two thirds of 960.
    CHECK(events({{{1, 8}, {1, 8}, 60, 80}}, 2.0 / 3) == "85 00 92 3C 50 82 40 82 3C 40 00 FF 2F 00");
}

TEST_CASE("A whole file, byte by byte", "[midi]") {
    auto performance = empty_performance();
    performance.name = "mild";
    performance.keys = {{0, -1, false}, {{1, 2}, 3, true}};
    performance.markers = {{{1, 2}, "B♭"}};
    performance.voices = {{SoundingVoice::Role::bass, "Bass", 33, {{0, {1, 2}, 41, 82}}, 1},
                          {SoundingVoice::Role::time, "Drums", 0, {{0, {1, 16}, 51, 50}}, 41}};
    CHECK(hex(write_midi(performance)) ==
          "4D 54 68 64 00 00 00 06 00 01 00 03 03 C0 "                       // MThd, format 1, 3 tracks, 960
          "4D 54 72 6B 00 00 00 39 "                                         // MTrk
          "00 FF 03 04 53 6C 69 70 00 FF 01 04 6D 69 6C 64 "                 // Slip, mild
          "00 FF 58 04 04 02 18 08 00 FF 59 02 FF 00 00 FF 51 03 07 A1 20 "  // 4/4, one flat, 500000
          "8F 00 FF 59 02 03 01 00 FF 06 04 42 E2 99 AD 8F 00 FF 2F 00 "     // A major's three sharps, marker
          "4D 54 72 6B 00 00 00 19 "                                         //
          "00 FF 03 04 42 61 73 73 00 C2 20 00 92 29 52 8F 00 82 29 40 8F 00 FF 2F 00 "
          "4D 54 72 6B 00 00 00 1A "
          "00 FF 03 05 44 72 75 6D 73 00 C9 28 00 99 33 32 81 70 89 33 40 9C 10 FF 2F 00");
}

TEST_CASE("Compound and odd meters, slow tempos, keys that the format lacks", "[midi]") {
    auto performance = empty_performance();
    performance.meters = {{0, 12, 8}, {1, 7, 8}, {2, 3, 2}};
    performance.tempi = {{0, 2}};  // thirty seconds a quarter do not fit into three bytes
    performance.keys = {{0, 9, false}};
    const auto bytes = hex(write_midi(performance));
    CHECK(bytes.find("FF 58 04 0C 03 24 08") != std::string::npos);
    CHECK(bytes.find("FF 58 04 07 03 0C 08") != std::string::npos);
    CHECK(bytes.find("FF 58 04 03 01 30 08") != std::string::npos);
    CHECK(bytes.find("FF 51 03 FF FF FF") != std::string::npos);
    CHECK(bytes.find("FF 59") == std::string::npos);
}
