// One track of a Standard MIDI File: events at their ticks, put in order when the track is closed.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "score/performance.h"

namespace relead::formats::midi {

inline constexpr int ticks_in_quarter = 960;

/// The tick at which a written moment sounds, swing included.
[[nodiscard]] std::uint32_t tick_of(const score::Performance& performance, Time at);
/// The same without swing: for tempo, meter and markers.
[[nodiscard]] std::uint32_t straight_tick(Time at);

class Track {
public:
    void meta(std::uint32_t tick, std::uint8_t type, const std::string& content);
    void program(int channel, int program);
    /// Notes of one channel. A key that is struck again while it sounds is let go first; each note lasts at
    /// least a tick; two at the same tick on the same key are one, the louder.
    void notes(int channel, const score::Performance& performance,
               const std::vector<score::SoundingNote>& notes);
    /// The chunk, with its end of track at `end` or after the last event.
    [[nodiscard]] std::string close(std::uint32_t end);

private:
    struct Event {
        std::uint32_t tick = 0;
        int rank = 0;  ///< what goes first at one tick: note-off, then meta and program, then note-on
        std::string bytes;
    };
    std::vector<Event> events_;
};

}  // namespace relead::formats::midi
