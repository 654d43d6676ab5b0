#include "analysis/local_keys.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <stdexcept>
#include <string_view>

#include "analysis/tables/local_key_fit.h"
#include "analysis/tables/local_key_weights.h"

namespace relead::analysis {
namespace {

constexpr int keys = 24;

/// A weight that the table lacks stops the compiler.
consteval int weight(std::string_view name) {
    for (const auto& row : tables::local_key_weight_rows)
        if (row.name == name) return row.value;
    throw std::invalid_argument("local-key-weights.txt lacks this weight");
}

Tonality key_of(int state) {
    return {state % 12, state >= 12};
}
int state_of(const Tonality& key) {
    return key.tonic + (key.minor ? 12 : 0);
}

/// Rows come by half steps above the tonic, twelve of major keys, then twelve of minor ones.
constexpr bool rows_in_order() {
    constexpr std::string_view roots[] = {"1", "b2", "2", "b3", "3", "4", "#4", "5", "b6", "6", "b7", "7"};
    if (std::size(tables::local_key_fit_rows) != keys) return false;
    for (std::size_t i = 0; i < keys; ++i) {
        const auto& row = tables::local_key_fit_rows[i];
        if (row.root != roots[i % 12] || row.mode != (i < 12 ? "major" : "minor")) return false;
    }
    return true;
}
static_assert(rows_in_order(), "local-key-fit.txt: rows by half steps, major before minor");

/// How well a chord fits into a key, for each bar that it lasts: hundredths.
int fit_of(const Tonality& key, const Heard& chord) {
    const auto at = static_cast<std::size_t>(semitones_up(key.tonic, chord.root) + (key.minor ? 12 : 0));
    const auto& row = tables::local_key_fit_rows[at];
    switch (chord.sound) {
        case Sound::major:
            return row.maj;
        case Sound::minor_seventh:
            return row.min7;
        case Sound::half_diminished:
            return row.hdim;
        case Sound::minor:
            return row.min;
        case Sound::dominant:
            return row.dom;
        case Sound::suspended:
            return row.sus;
        case Sound::diminished:
            return row.dim;
    }
    return 0;
}

int change_cost(int from, int to) {
    const auto a = key_of(from);
    const auto b = key_of(to);
    const int relative_a = a.minor ? (a.tonic + 3) % 12 : a.tonic;  // signatures as major tonics
    const int relative_b = b.minor ? (b.tonic + 3) % 12 : b.tonic;
    const int distance = semitones_up(relative_a, relative_b);
    return distance == 0 || distance == 5 || distance == 7 ? weight("change-near") : weight("change-far");
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
        int value = fit_of(key, chord);
        if (mode_ && key == home_ && lies_in(chord, *mode_)) value = weight("in-mode");
        const double bars = std::clamp(chord.length, 0.5, 4.0);
        const int ground = chord.stated ? (key == *chord.stated ? weight("stated") : 0)
                                        : (key == home_ ? weight("home") : 0);
        return static_cast<int>(bars * (value + ground)) + extra_[at(i)][at(state)];
    }

    /// V (or its substitute) and I, with the ii before them, speak for the key of I.
    void mark_cadence(int i) {
        const auto& goal = chords_[at(i)];
        const auto& dominant = chords_[at(i - 1)];
        const bool minor = goal.sound == Sound::minor || goal.sound == Sound::minor_seventh;
        if (!minor && goal.sound != Sound::major) return;
        const int motion = semitones_up(dominant, goal);
        if (!is_dominant_like(dominant.sound) || (motion != 5 && motion != 11)) return;
        if (goal.sound == Sound::minor_seventh && i + 1 < count() &&
            semitones_up(goal, chords_[at(i + 1)]) == 5 && is_dominant_like(chords_[at(i + 1)].sound))
            return;  // the goal is the ii of what follows
        const int state = state_of({goal.root, minor});
        const int bonus = goal.length >= 1 ? weight("cadence") : weight("brief-cadence");
        extra_[at(i)][at(state)] += bonus;
        extra_[at(i - 1)][at(state)] += bonus;
        if (i > 1 && semitones_up(chords_[at(i - 2)], dominant) == 5 &&
            is_minor_seventh_like(chords_[at(i - 2)].sound))
            extra_[at(i - 2)][at(state)] += bonus;
    }

    void step(std::vector<std::array<int, keys>>& best, std::vector<std::array<int, keys>>& from, int i,
              int state) const {
        int source = state;
        int value = 0;
        if (i == 0) {
            value =
                state == state_of(home_) ? 0 : -weight("change-near");  // a tune that starts away from home
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
