#include "analysis/satellites.h"

#include <algorithm>

namespace relead::analysis {
namespace {

bool is_minor_colour(Sound sound) {
    return sound == Sound::minor || sound == Sound::minor_seventh;
}

bool has_minor_seventh_or_sixth(const theory::Chord& chord) {
    const auto degrees = theory::degrees(chord);
    return std::any_of(degrees.begin(), degrees.end(), [](theory::Degree degree) {
        return degree == theory::Degree{7, -1} || degree == theory::Degree{6, 0};
    });
}

/// Dm Dm(maj7) Dm7 Dm6: starts on the triad or the major seventh, each next within a bar or so.
bool moves_colour(const Chorus& chorus, int host, int i) {
    const auto& first = chorus.chords[static_cast<std::size_t>(host)];
    const auto& chord = chorus.chords[static_cast<std::size_t>(i)];
    if (first.root != chord.root || !is_minor_colour(first.sound) || !is_minor_colour(chord.sound))
        return false;
    if (first.chord->quality == chord.chord->quality || chord.bar - first.bar > 1) return false;
    return host != i - 1 || (first.sound == Sound::minor && !has_minor_seventh_or_sixth(*first.chord));
}

/// Shades pair up by bars, as all repetitions of a chord do: Dm Dm(maj7) | Dm7 Dm6 are two pairs, and the
/// last one colours the Dm7 that opens its bar.
int shade_host(const Chorus& chorus, const std::vector<int>& hosts, int host, int i) {
    const auto& before = chorus.chords[static_cast<std::size_t>(i) - 1];
    const bool pair = before.on_one && before.bar == chorus.chords[static_cast<std::size_t>(i)].bar;
    return pair && hosts[static_cast<std::size_t>(i) - 1] == host ? i - 1 : host;
}

bool sounds(const theory::Chord& chord, theory::Degree degree) {
    const auto degrees = theory::degrees(chord);
    return std::find(degrees.begin(), degrees.end(), degree) != degrees.end();
}

/// Cmaj7 C6: the seventh falls to the sixth, within a bar or so and inside a section.
bool moves_to_sixth(const Chorus& chorus, int host, int i) {
    const auto& first = chorus.chords[static_cast<std::size_t>(host)];
    const auto& chord = chorus.chords[static_cast<std::size_t>(i)];
    if (host != i - 1 || first.root != chord.root || chord.bar - first.bar > 1 || chord.level >= 4)
        return false;
    if (first.sound != Sound::major || chord.sound != Sound::major) return false;
    const theory::Degree sixth{6, 0}, seventh{7, 0};
    return sounds(*first.chord, seventh) && sounds(*chord.chord, sixth) && !sounds(*chord.chord, seventh);
}

bool is_common_tone_diminished(const Chorus& chorus, int i) {
    if (static_cast<std::size_t>(i) + 1 >= chorus.chords.size()) return false;
    const auto& before = chorus.chords[static_cast<std::size_t>(i) - 1];
    const auto& chord = chorus.chords[static_cast<std::size_t>(i)];
    const auto& after = chorus.chords[static_cast<std::size_t>(i) + 1];
    if (chord.sound != Sound::diminished || semitones_up(before, chord) != 1) return false;
    if (before.sound == Sound::half_diminished || before.sound == Sound::suspended ||
        before.sound == Sound::diminished)
        return false;
    return semitones_up(before, after) == 7 || semitones_up(before, after) == 0;
}

bool repeats_bar(const Chorus& chorus, int host, int i) {
    const auto& chord = chorus.chords[static_cast<std::size_t>(i)];
    return chord.simile && chord.on_one && chord.to_bar_end &&
           same_chord(chorus.chords[static_cast<std::size_t>(host)], chord);
}

}  // namespace

std::vector<int> satellites(const Chorus& chorus) {
    const int count = static_cast<int>(chorus.chords.size());
    std::vector<int> hosts(chorus.chords.size(), -1);
    for (int i = 1; i < count; ++i) {
        int host = i - 1;
        while (hosts[static_cast<std::size_t>(host)] >= 0) host = hosts[static_cast<std::size_t>(host)];
        if (moves_colour(chorus, host, i))
            hosts[static_cast<std::size_t>(i)] = shade_host(chorus, hosts, host, i);
        else if (moves_to_sixth(chorus, host, i) || is_common_tone_diminished(chorus, i) ||
                 repeats_bar(chorus, host, i))
            hosts[static_cast<std::size_t>(i)] = host;
    }
    return hosts;
}

}  // namespace relead::analysis
