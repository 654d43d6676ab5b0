#include "analysis/home_key.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string_view>

#include "analysis/tables/key_weights.h"

namespace relead::analysis {
namespace {

consteval std::size_t evidence(std::string_view name) {
    for (std::size_t i = 0; i < std::size(tables::key_weight_rows); ++i)
        if (tables::key_weight_rows[i].evidence == name) return i;
    throw std::invalid_argument("key-weights.txt lacks this evidence");
}

bool is_sixth_or_major_seventh_minor(const Heard& chord) {
    const auto degrees = theory::degrees(*chord.chord);
    const auto has = [&](theory::Degree degree) {
        return std::find(degrees.begin(), degrees.end(), degree) != degrees.end();
    };
    if (chord.sound == Sound::major) return has({6, 0});
    return chord.sound == Sound::minor && (has({6, 0}) || has({7, 0}));
}

/// A chord and its repetitions.
struct Run {
    int first = 0;
    int last = 0;
};

std::vector<Run> runs_of(const Chorus& chorus) {
    std::vector<Run> runs;
    for (int i = 0; i < static_cast<int>(chorus.chords.size()); ++i) {
        const auto& chord = chorus.chords[static_cast<std::size_t>(i)];
        if (!runs.empty() && same_chord(chorus.chords[static_cast<std::size_t>(runs.back().first)], chord)) {
            runs.back().last = i;
        } else {
            runs.push_back({i, i});
        }
    }
    return runs;
}

/// What speaks for one key; sums in hundredths of a weight by thousandths of evidence.
class Witness {
public:
    Witness(const Chorus& chorus, const std::vector<Run>& runs, Tonality key)
        : chords_(chorus.chords),
          runs_(runs),
          key_(key),
          bars_(chorus.bars),
          eights_(std::max(1, chorus.bars) / 8.0) {
        for (const auto& chord : chords_) total_ += chord.length;
    }

    long long run() {
        add(evidence("mode"), 1);
        weigh_time();
        weigh_cadences();
        weigh_first_and_last();
        weigh_places();
        weigh_last_stable();
        return sum_;
    }

private:
    const Heard& chord(int i) const { return chords_[static_cast<std::size_t>(i)]; }
    int last() const { return static_cast<int>(chords_.size()) - 1; }
    int degree(const Heard& chord) const { return semitones_up(key_.tonic, chord.root); }
    bool tonic(const Heard& chord) const { return is_tonic_chord(chord, key_); }
    bool dominant(const Heard& chord) const { return degree(chord) == 7 && is_dominant_like(chord.sound); }
    bool tonic_seventh(const Heard& chord) const {
        return degree(chord) == 0 && chord.sound == Sound::dominant;
    }

    void add(std::size_t row, double value) {
        const auto& weights = tables::key_weight_rows[row];
        sum_ += std::llround(1000 * value) * (key_.minor ? weights.minor : weights.major);
    }

    bool diatonic(const Heard& chord) const {
        const int at = degree(chord);
        const auto sound = chord.sound;
        if (at == 7 && is_dominant_like(sound)) return true;
        if (!key_.minor) {
            return (sound == Sound::major && (at == 0 || at == 5)) ||
                   (sound == Sound::minor_seventh && (at == 2 || at == 4 || at == 9)) ||
                   (sound == Sound::half_diminished && at == 11);
        }
        return (sound == Sound::minor && (at == 0 || at == 5)) ||
               (sound == Sound::minor_seventh && (at == 0 || at == 5)) ||
               (sound == Sound::half_diminished && at == 2) ||
               (sound == Sound::major && (at == 3 || at == 8)) || (sound == Sound::dominant && at == 10);
    }

    void weigh_time() {
        double in_scale = 0, blues = 0, on_tonic = 0;
        for (const auto& chord : chords_) {
            const double share = 3 * chord.length / total_;
            if (diatonic(chord)) in_scale += share;
            if (chord.sound == Sound::dominant && (degree(chord) == 0 || degree(chord) == 5)) blues += share;
            if (tonic(chord)) on_tonic += share;
        }
        add(evidence("diatonic share"), in_scale);
        add(evidence("blues share"), blues);
        add(evidence("tonic share"), on_tonic);
    }

    void weigh_cadences() {
        double cadences = 0, with_ii = 0;
        bool in_four = false, in_two = false;
        for (std::size_t r = 1; r < runs_.size(); ++r) {
            const auto& arrival = chord(runs_[r].first);
            if (!tonic(arrival) || !dominant(chord(runs_[r - 1].first))) continue;
            ++cadences;
            if (r > 1) {
                const int before = degree(chord(runs_[r - 2].first));
                if (before == 2 || before == 8) ++with_ii;
            }
            in_four = in_four || arrival.bar >= bars_ - 4;
            in_two = in_two || arrival.bar >= bars_ - 2;
        }
        add(evidence("cadences"), cadences / eights_);
        add(evidence("ii-V cadences"), with_ii / eights_);
        add(evidence("final cadence"), in_four);
        add(evidence("last cadence"), in_two);
    }

    void weigh_first_and_last() {
        const auto& first = chords_.front();
        const auto& end = chords_.back();
        add(evidence("first chord is tonic"), tonic(first));
        add(evidence("first root is tonic"), degree(first) == 0);
        add(evidence("first chord is dominant"), dominant(first));
        add(evidence("first chord is I7"), tonic_seventh(first));
        add(evidence("first chord is ii"),
            degree(first) == 2 &&
                first.sound == (key_.minor ? Sound::half_diminished : Sound::minor_seventh));
        add(evidence("last chord is tonic"), tonic(end));
        add(evidence("last root is tonic"), degree(end) == 0);
        add(evidence("last chord is dominant"), dominant(end));
        add(evidence("last chord is I7"), tonic_seventh(end));
        add(evidence("turns around to tonic"), dominant(end) && tonic(first));
    }

    void weigh_places() {
        bool in_two = false, at_half = false;
        double eighths = 0;
        for (const auto& chord : chords_) {
            if (tonic(chord)) {
                in_two = in_two || chord.bar >= bars_ - 2;
                at_half = at_half || (chord.bar >= bars_ / 2 - 2 && chord.bar < bars_ / 2);
            }
            if (dominant(chord) && chord.bar % 8 == 7 && chord.to_bar_end) ++eighths;
        }
        add(evidence("tonic in last two bars"), in_two);
        add(evidence("tonic at half"), at_half);
        add(evidence("eighth bar ends on V"), eighths / eights_);
        for (int i = last(); i >= 0; --i) {
            if (!is_sixth_or_major_seventh_minor(chord(i))) continue;
            add(evidence("last coloured tonic"), tonic(chord(i)));
            break;
        }
        for (const auto& chord : chords_) {
            if (chord.sound != Sound::major && chord.sound != Sound::minor) continue;
            add(evidence("first stable chord"), tonic(chord));
            break;
        }
    }

    bool stable(int i) const {
        const auto& here = chord(i);
        if (here.sound == Sound::major || here.sound == Sound::minor) return true;
        if (here.sound != Sound::minor_seventh) return false;
        if (i == last()) return true;
        const int motion = semitones_up(here, chord(i + 1));
        return !(is_dominant_like(chord(i + 1).sound) && (motion == 5 || motion == 11));  // not a ii
    }

    void weigh_last_stable() {
        for (int i = last(); i >= 0 && chord(i).bar >= bars_ - 4; --i) {
            if (!stable(i)) continue;
            add(evidence("last stable chord"), tonic(chord(i)));
            add(evidence("last stable root"), degree(chord(i)) == 0);
            return;
        }
    }

    const std::vector<Heard>& chords_;
    const std::vector<Run>& runs_;
    Tonality key_;
    int bars_;
    double eights_;
    double total_ = 0;
    long long sum_ = 0;
};

}  // namespace

Tonality home_tonality(const Chorus& chorus) {
    Tonality best;
    if (chorus.chords.empty()) return best;
    const auto runs = runs_of(chorus);
    // Keys are looked at from the first chord's root upwards, so that ties fall alike in all keys.
    const int start = chorus.chords.front().root;
    long long most = 0;
    for (int i = 0; i < 24; ++i) {
        const Tonality key{(start + i / 2) % 12, i % 2 != 0};
        const auto sum = Witness(chorus, runs, key).run();
        if (i > 0 && sum <= most) continue;
        most = sum;
        best = key;
    }
    return best;
}

bool is_blues(const Chorus& chorus, int tonic) {
    double all = 0, sevenths = 0, major = 0, first = 0, fourth = 0;
    for (const auto& chord : chorus.chords) {
        all += chord.length;
        const int degree = semitones_up(tonic, chord.root);
        if (chord.sound == Sound::dominant && degree == 0) first += chord.length;
        if (chord.sound == Sound::dominant && degree == 5) fourth += chord.length;
        if (degree == 0 && (chord.sound == Sound::major || chord.sound == Sound::minor))
            major += chord.length;
    }
    sevenths = first + fourth;
    return all > 0 && first >= all / 6 && fourth >= all / 12 && sevenths >= all * 0.4 && major < first;
}

namespace {

/// What a bar plays: where, which root, which sound.
std::vector<std::array<int, 3>> bar_content(const Chorus& chorus, int bar) {
    std::vector<std::array<int, 3>> content;
    for (const auto& chord : chorus.chords) {
        if (chord.bar != bar) continue;
        const auto ticks = static_cast<int>(std::lround((chord.start - bar) * 960));
        content.push_back({ticks, chord.root, static_cast<int>(chord.sound)});
    }
    return content;
}

/// The last two bars are the two before them again, and the first two: a vamp, which nothing closes.
bool ends_as_vamp(const Chorus& chorus) {
    const int bars = chorus.bars;
    if (bars < 6) return false;
    const auto same = [&](int a, int b) { return bar_content(chorus, a) == bar_content(chorus, b); };
    return same(bars - 2, 0) && same(bars - 1, 1) && same(bars - 2, bars - 4) && same(bars - 1, bars - 3) &&
           !same(bars - 1, bars - 2);
}

}  // namespace

int final_tonic(const Chorus& chorus, const Tonality& home, bool blues) {
    int other_mode = -1;
    for (int i = static_cast<int>(chorus.chords.size()) - 1; i >= 0; --i) {
        const auto& chord = chorus.chords[static_cast<std::size_t>(i)];
        if (chord.bar < chorus.bars - 3) break;
        if (is_tonic_chord(chord, home))
            return chord.bar == chorus.bars - 2 && chord.on_one && ends_as_vamp(chorus) ? -1 : i;
        if (chord.root != home.tonic) continue;
        if (blues && chord.sound == Sound::dominant) return i;
        if (other_mode < 0 && (chord.sound == Sound::major || chord.sound == Sound::minor)) other_mode = i;
    }
    return other_mode;
}

}  // namespace relead::analysis
