#include "analysis/local_keys.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace relead::analysis {
namespace {

constexpr int keys = 24;
constexpr int change_near = 150;  // to a neighbour on the circle of fifths or a relative, in hundredths
constexpr int change_far = 190;
constexpr int home_a_bar = 12;
constexpr int stated_a_bar = 40;  // the key that a section states for itself
constexpr int cadence = 45;       // for each chord of a cadence onto a tonic that lasts a bar or more
constexpr int brief_cadence = 20;
constexpr int in_mode = 40;  // a chord of the scale under a modal home key, for each bar

Tonality key_of(int state) {
    return {state % 12, state >= 12};
}
int state_of(const Tonality& key) {
    return key.tonic + (key.minor ? 12 : 0);
}

/// How well a chord fits into a key, for each bar that it lasts: hundredths.
int fit_major(int degree, Sound sound) {
    const bool dominant = is_dominant_like(sound);
    switch (degree) {
        case 0:
            return sound == Sound::major ? 40 : dominant ? 18 : sound == Sound::diminished ? 15 : 5;
        case 2:
            return sound == Sound::minor_seventh || sound == Sound::minor ? 38 : dominant ? 22 : 20;
        case 4:
            return sound == Sound::minor_seventh     ? 30
                   : dominant                        ? 20
                   : sound == Sound::half_diminished ? 14
                                                     : 5;
        case 5:
            return sound == Sound::major ? 38 : dominant ? 18 : 20;
        case 7:
            return dominant ? 40 : sound == Sound::major ? 25 : sound == Sound::minor_seventh ? 10 : 5;
        case 9:
            return sound == Sound::minor_seventh || sound == Sound::minor ? 32 : dominant ? 20 : 5;
        case 10:
            return dominant ? 20 : 4;
        case 1:
            return dominant ? 14 : sound == Sound::diminished ? 18 : 2;
        case 3:
            return sound == Sound::diminished ? 18 : 5;
        case 6:
            return sound == Sound::half_diminished || sound == Sound::diminished ? 14 : 0;
        case 8:
            return dominant ? 12 : sound == Sound::major ? 8 : sound == Sound::diminished ? 14 : 0;
        default:
            return sound == Sound::half_diminished ? 20 : dominant ? 14 : 4;
    }
}

int fit_minor(int degree, Sound sound) {
    const bool dominant = is_dominant_like(sound);
    const bool minor = sound == Sound::minor_seventh || sound == Sound::minor;
    switch (degree) {
        case 0:
            return minor ? 40 : dominant ? 14 : 5;
        case 2:
            return sound == Sound::half_diminished ? 38 : dominant ? 20 : minor ? 8 : 5;
        case 3:
            return sound == Sound::major ? 22 : 6;
        case 5:
            return minor ? 34 : dominant ? 18 : 5;
        case 7:
            return dominant ? 40 : minor ? 12 : 5;
        case 8:
            return sound == Sound::major ? 28 : dominant ? 22 : 2;
        case 10:
            return dominant ? 20 : sound == Sound::major ? 10 : 2;
        case 1:
            return dominant ? 14 : sound == Sound::major ? 12 : 0;
        case 9:
            return sound == Sound::half_diminished ? 18 : 4;
        case 11:
            return sound == Sound::diminished ? 28 : 4;
        default:
            return sound == Sound::diminished ? 12 : 2;
    }
}

int change_cost(int from, int to) {
    const auto a = key_of(from);
    const auto b = key_of(to);
    const int relative_a = a.minor ? (a.tonic + 3) % 12 : a.tonic;  // signatures as major tonics
    const int relative_b = b.minor ? (b.tonic + 3) % 12 : b.tonic;
    const int distance = up(relative_a, relative_b);
    return distance == 0 || distance == 5 || distance == 7 ? change_near : change_far;
}

class Path {
public:
    Path(const Chorus& chorus, const Tonality& home, const std::optional<ModeScale>& mode)
        : chords_(chorus.chords), home_(home), mode_(mode) {
        extra_.assign(chords_.size(), {});
        for (int i = 1; i < count(); ++i) mark_cadence(i);
    }

    std::vector<Tonality> run() {
        std::vector<std::array<int, keys>> best(chords_.size());
        std::vector<std::array<int, keys>> from(chords_.size());
        // The home key first: ties stay at home, and fall alike in all twelve keys.
        for (int i = 0; i < count(); ++i)
            for (int n = 0; n < keys; ++n) step(best, from, i, ordered(n));
        int state = state_of(home_);
        for (int n = 0; n < keys; ++n)
            if (best.back()[at(ordered(n))] > best.back()[at(state)]) state = ordered(n);
        std::vector<Tonality> path(chords_.size());
        for (int i = count() - 1; i >= 0; --i) {
            path[at(i)] = key_of(state);
            state = from[at(i)][at(state)];
        }
        return path;
    }

private:
    static std::size_t at(int i) { return static_cast<std::size_t>(i); }
    int count() const { return static_cast<int>(chords_.size()); }
    int ordered(int n) const {
        const bool minor = (n >= 12) != home_.minor;
        return (home_.tonic + n) % 12 + (minor ? 12 : 0);
    }

    int fit(int i, int state) const {
        const auto key = key_of(state);
        const auto& chord = chords_[at(i)];
        const int degree = up(key.tonic, chord.root);
        int value = key.minor ? fit_minor(degree, chord.sound) : fit_major(degree, chord.sound);
        if (mode_ && key == home_ && lies_in(chord, *mode_)) value = in_mode;
        const double bars = std::clamp(chord.length, 0.5, 4.0);
        const int ground =
            chord.stated ? (key == *chord.stated ? stated_a_bar : 0) : (key == home_ ? home_a_bar : 0);
        return static_cast<int>(bars * (value + ground)) + extra_[at(i)][at(state)];
    }

    /// V (or its substitute) and I, with the ii before them, speak for the key of I.
    void mark_cadence(int i) {
        const auto& goal = chords_[at(i)];
        const auto& dominant = chords_[at(i - 1)];
        const bool minor = goal.sound == Sound::minor || goal.sound == Sound::minor_seventh;
        if (!minor && goal.sound != Sound::major) return;
        const int motion = up(dominant, goal);
        if (!is_dominant_like(dominant.sound) || (motion != 5 && motion != 11)) return;
        if (goal.sound == Sound::minor_seventh && i + 1 < count() && up(goal, chords_[at(i + 1)]) == 5 &&
            is_dominant_like(chords_[at(i + 1)].sound))
            return;  // the goal is the ii of what follows
        const int state = state_of({goal.root, minor});
        const int bonus = goal.length >= 1 ? cadence : brief_cadence;
        extra_[at(i)][at(state)] += bonus;
        extra_[at(i - 1)][at(state)] += bonus;
        if (i > 1 && up(chords_[at(i - 2)], dominant) == 5 && is_minor_seventh_like(chords_[at(i - 2)].sound))
            extra_[at(i - 2)][at(state)] += bonus;
    }

    void step(std::vector<std::array<int, keys>>& best, std::vector<std::array<int, keys>>& from, int i,
              int state) const {
        int source = state;
        int value = 0;
        if (i == 0) {
            value = state == state_of(home_) ? 0 : -change_near;  // a tune that starts away from home
        } else {
            value = best[at(i - 1)][at(state)];
            for (int n = 0; n < keys; ++n) {
                const int other = ordered(n);
                if (other == state) continue;
                const int moved = best[at(i - 1)][at(other)] - change_cost(other, state);
                if (moved <= value) continue;
                value = moved;
                source = other;
            }
        }
        best[at(i)][at(state)] = value + fit(i, state);
        from[at(i)][at(state)] = source;
    }

    const std::vector<Heard>& chords_;
    Tonality home_;
    std::optional<ModeScale> mode_;
    std::vector<std::array<int, keys>> extra_;
};

}  // namespace

std::vector<Tonality> local_keys(const Chorus& chorus, const Tonality& home,
                                 const std::optional<ModeScale>& mode) {
    if (chorus.chords.empty()) return {};
    return Path(chorus, home, mode).run();
}

}  // namespace relead::analysis
