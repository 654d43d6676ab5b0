#include "formats/midi/write.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdlib>

#include "formats/midi/bytes.h"
#include "formats/midi/track.h"

namespace relead::formats {
namespace {

using score::SoundingVoice;
using namespace midi;

enum Meta : std::uint8_t {
    text = 0x01,
    track_name = 0x03,
    marker = 0x06,
    tempo = 0x51,
    meter = 0x58,
    key = 0x59
};

int channel_of(SoundingVoice::Role role) {
    switch (role) {
        case SoundingVoice::Role::melody:
            return 0;
        case SoundingVoice::Role::comping:
            return 1;
        case SoundingVoice::Role::bass:
            return 2;
        case SoundingVoice::Role::guide_tones:
            return 3;
        default:
            return 9;
    }
}

/// Numerator, power of two of the denominator, MIDI clocks (24 a quarter) a metronome click, thirty-seconds
/// a quarter.
std::string meter_content(const score::MeterMark& mark) {
    const bool compound = mark.unit == 8 && mark.beats % 3 == 0 && mark.beats > 3;
    const int clocks = compound ? 36 : std::max(96 / mark.unit, 1);
    std::string bytes(1, static_cast<char>(mark.beats));
    bytes += static_cast<char>(std::countr_zero(static_cast<unsigned>(mark.unit)));
    bytes += static_cast<char>(clocks);
    return bytes + '\x08';
}

std::string tempo_content(double quarters_per_minute) {
    constexpr double largest = 0xFFFFFF;  // three bytes
    const double microseconds = std::clamp(60e6 / quarters_per_minute, 1.0, largest);
    return big_endian(static_cast<std::uint32_t>(std::lround(microseconds)), 3);
}

std::string marks_track(const score::Performance& performance, std::uint32_t end) {
    Track track;
    track.meta(0, Meta::track_name, performance.title);
    if (!performance.name.empty()) track.meta(0, Meta::text, performance.name);
    for (const auto& mark : performance.meters)
        track.meta(straight_tick(mark.at), Meta::meter, meter_content(mark));
    for (const auto& mark : performance.keys) {
        if (std::abs(mark.fifths) > 7) continue;  // the format has no more
        std::string content(1, static_cast<char>(mark.fifths));
        content += mark.minor ? '\x01' : '\x00';
        track.meta(straight_tick(mark.at), Meta::key, content);
    }
    for (const auto& mark : performance.tempi)
        track.meta(straight_tick(mark.at), Meta::tempo, tempo_content(mark.quarters_per_minute));
    for (const auto& mark : performance.markers) track.meta(straight_tick(mark.at), Meta::marker, mark.text);
    return track.close(end);
}

std::string voice_track(const score::Performance& performance, const SoundingVoice& voice,
                        std::uint32_t end) {
    Track track;
    const int channel = channel_of(voice.role);
    const bool drums = voice.role == SoundingVoice::Role::time;
    track.meta(0, Meta::track_name, voice.name);
    if (!drums) track.program(channel, voice.program);
    if (drums && voice.kit != 1) track.program(channel, voice.kit);
    track.notes(channel, performance, voice.notes);
    return track.close(end);
}

}  // namespace

std::string write_midi(const score::Performance& performance) {
    const auto end = straight_tick(performance.length);
    const auto tracks = 1 + performance.voices.size();
    auto bytes = chunk("MThd", big_endian(1, 2) + big_endian(static_cast<std::uint32_t>(tracks), 2) +
                                   big_endian(ticks_in_quarter, 2));
    bytes += marks_track(performance, end);
    for (const auto& voice : performance.voices) bytes += voice_track(performance, voice, end);
    return bytes;
}

}  // namespace relead::formats
