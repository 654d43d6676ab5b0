#include "formats/midi/track.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "formats/midi/bytes.h"

namespace relead::formats::midi {
namespace {

constexpr int release_velocity = 64;  // what the specification advises where none was measured
constexpr double ticks_in_whole = 4.0 * ticks_in_quarter;

struct Sounding {
    std::uint32_t on = 0;
    std::uint32_t off = 0;
    int velocity = 0;
};

std::string channel_event(unsigned status, int channel, int first, int second) {
    std::string bytes(1, static_cast<char>(status | static_cast<unsigned>(channel)));
    bytes += static_cast<char>(first);
    bytes += static_cast<char>(second);
    return bytes;
}

/// The notes of one key, without overlaps.
std::vector<Sounding> apart(std::vector<Sounding> notes) {
    std::stable_sort(notes.begin(), notes.end(), [](const auto& a, const auto& b) { return a.on < b.on; });
    std::vector<Sounding> clean;
    for (const auto& note : notes) {
        if (!clean.empty() && clean.back().on == note.on) {
            clean.back().off = std::max(clean.back().off, note.off);
            clean.back().velocity = std::max(clean.back().velocity, note.velocity);
            continue;
        }
        if (!clean.empty()) clean.back().off = std::min(clean.back().off, note.on);
        clean.push_back(note);
    }
    return clean;
}

}  // namespace

std::uint32_t straight_tick(Time at) {
    return static_cast<std::uint32_t>(std::lround(std::max(at.to_double(), 0.0) * ticks_in_whole));
}

std::uint32_t tick_of(const score::Performance& performance, Time at) {
    return static_cast<std::uint32_t>(
        std::lround(std::max(score::swung(performance, at), 0.0) * ticks_in_whole));
}

void Track::meta(std::uint32_t tick, std::uint8_t type, const std::string& content) {
    events_.push_back({tick, 1, meta_event(type, content)});
}

void Track::program(int channel, int program) {
    std::string bytes(1, static_cast<char>(0xC0U | static_cast<unsigned>(channel)));
    bytes += static_cast<char>(std::clamp(program - 1, 0, 127));
    events_.push_back({0, 1, bytes});
}

void Track::notes(int channel, const score::Performance& performance,
                  const std::vector<score::SoundingNote>& notes) {
    std::map<int, std::vector<Sounding>> keys;
    for (const auto& note : notes) {
        const auto on = tick_of(performance, note.at);
        const auto off = std::max(tick_of(performance, note.at + note.length), on + 1);
        keys[std::clamp(note.key, 0, 127)].push_back({on, off, std::clamp(note.loudness, 1, 127)});
    }
    for (auto& [key, sounding] : keys)
        for (const auto& note : apart(std::move(sounding))) {
            events_.push_back({note.off, 0, channel_event(0x80, channel, key, release_velocity)});
            events_.push_back({note.on, 2, channel_event(0x90, channel, key, note.velocity)});
        }
}

std::string Track::close(std::uint32_t end) {
    std::stable_sort(events_.begin(), events_.end(), [](const Event& a, const Event& b) {
        return a.tick != b.tick ? a.tick < b.tick : a.rank < b.rank;
    });
    std::string content;
    std::uint32_t now = 0;
    for (const auto& event : events_) {
        content += variable_length(event.tick - now) + event.bytes;
        now = event.tick;
    }
    content += variable_length(end > now ? end - now : 0) + meta_event(0x2F, "");
    return chunk("MTrk", content);
}

}  // namespace relead::formats::midi
