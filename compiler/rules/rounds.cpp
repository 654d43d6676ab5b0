#include "rules/rounds.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

namespace relead::rules {
namespace {

constexpr std::array unit_lengths{1, 2, 4};  // bars
/// Three chords of a bar each are a cadence (IV I V, iii vi ii) rather than a sequence; four are one.
constexpr int fewest_rounds = 3, fewest_single_chords = 4;

/// Spots [begin, end) of one bar.
struct BarSpots {
    int begin = 0, end = 0;
};

/// How far a chord lies above another one that is the same but for its place; nothing when it is not.
std::optional<int> interval_of(const theory::Chord& from, const theory::Chord& to) {
    if (from.is_none() || to.is_none()) return std::nullopt;
    if (theory::chord_class(from) != theory::chord_class(to)) return std::nullopt;
    const int up = theory::semitones_up(from.root, to.root);
    if (theory::semitones_up(theory::bass_of(from), theory::bass_of(to)) != up) return std::nullopt;
    return up;
}

/// The bars of one stretch that is always played in one go.
class Stretch {
public:
    Stretch(const Chart& chart, std::vector<BarSpots> bars) : chart_(chart), bars_(std::move(bars)) {
        for (std::size_t u = 0; u < unit_lengths.size(); ++u) {
            for (int bar = 0; bar < size(); ++bar)
                onward_[u].push_back(interval_between(bar, bar + unit_lengths[u]));
        }
    }
    /// Adds the runs of its bars [from, to): the best one, then what lies on both sides of it.
    void find(int from, int to, std::vector<Rounds>& found) const {
        const auto best = best_run(from, to);
        if (best.rounds == 0) return;
        find(from, best.first, found);
        found.push_back(rounds_of(best));
        find(best.first + best.length(), to, found);
    }
    [[nodiscard]] int size() const { return static_cast<int>(bars_.size()); }

private:
    struct Run {
        int first = 0, bars = 0, rounds = 0, interval = 0;
        bool in_step = false;  ///< its units lie as those of the section, counted from its first bar
        [[nodiscard]] int length() const { return bars * rounds; }
        [[nodiscard]] bool better_than(const Run& other) const {
            if (length() != other.length()) return length() > other.length();
            if (bars != other.bars) return bars < other.bars;
            return in_step != other.in_step ? in_step : first < other.first;
        }
    };
    [[nodiscard]] const BarSpots& bar(int index) const { return bars_[static_cast<std::size_t>(index)]; }

    [[nodiscard]] std::optional<int> interval_between(int a, int b) const {
        if (b >= size() || bar(a).end - bar(a).begin != bar(b).end - bar(b).begin) return std::nullopt;
        std::optional<int> common;
        for (int i = bar(a).begin, k = bar(b).begin; i < bar(a).end; ++i, ++k) {
            const auto &here = chart_.at(i), &there = chart_.at(k);
            const bool in_time = here.start - here.bar_start == there.start - there.bar_start &&
                                 here.length == there.length && here.beat_length == there.beat_length;
            const auto up = interval_of(here.chord, there.chord);
            if (!in_time || !up || (common && *common != *up)) return std::nullopt;
            common = up;
        }
        return common;
    }
    /// Whether a unit has but one chord.
    [[nodiscard]] bool stays(int first, int bars) const {
        const auto& opening = chart_.at(bar(first).begin).chord;
        for (int i = bar(first).begin; i < bar(first + bars - 1).end; ++i) {
            if (interval_of(opening, chart_.at(i).chord) != 0) return false;
        }
        return true;
    }
    [[nodiscard]] bool is_heard(const Run& run) const {
        if (run.rounds < fewest_rounds) return false;
        if (run.interval == 0) return !stays(run.first, run.bars);
        return run.bars > 1 || run.rounds >= fewest_single_chords || !stays(run.first, run.bars);
    }
    [[nodiscard]] Run best_run(int from, int to) const {
        Run best;
        for (std::size_t u = 0; u < unit_lengths.size(); ++u) {
            const int bars = unit_lengths[u];
            const auto& onward = onward_[u];
            // Bars on end that lie as far from the bar a unit later as the one before them does.
            int alike = 0;
            for (int first = to - bars - 1; first >= from; --first) {
                const auto here = onward[static_cast<std::size_t>(first)];
                const bool goes_on = alike > 0 && here == onward[static_cast<std::size_t>(first) + 1];
                alike = !here ? 0 : goes_on ? alike + 1 : 1;
                const bool in_step = (chart_.at(bar(first).begin).bar_number - 1) % bars == 0;
                const Run run{first, bars, alike / bars + 1, here.value_or(0), in_step};
                if (is_heard(run) && run.better_than(best)) best = run;
            }
        }
        return best;
    }
    [[nodiscard]] Rounds rounds_of(const Run& run) const {
        Rounds rounds{run.bars, run.interval, {}};
        for (int round = 0; round < run.rounds; ++round)
            rounds.starts.push_back(bar(run.first + round * run.bars).begin);
        rounds.starts.push_back(bar(run.first + run.length() - 1).end);
        return rounds;
    }

    const Chart& chart_;
    std::vector<BarSpots> bars_;
    std::array<std::vector<std::optional<int>>, unit_lengths.size()> onward_;  ///< per unit length and bar
};

/// The first bar of a run and what is played before it may be apart; inside nothing may.
std::vector<std::vector<BarSpots>> stretches_of(const Chart& chart) {
    std::vector<std::vector<BarSpots>> stretches;
    for (int i = 0; i < chart.size(); ++i) {
        const auto& ref = chart.at(i).ref;
        const bool joined = i > 0 && chart.joined(i - 1);
        const bool same_bar = joined && ref.bar == chart.at(i - 1).ref.bar;
        const bool next_bar = joined && ref.bar == chart.at(i - 1).ref.bar + 1;
        if (!same_bar && !next_bar) stretches.emplace_back();
        if (same_bar) {
            stretches.back().back().end = i + 1;
        } else {
            stretches.back().push_back({i, i + 1});
        }
    }
    return stretches;
}

}  // namespace

std::vector<Rounds> find_rounds(const Chart& chart) {
    std::vector<Rounds> found;
    for (auto& bars : stretches_of(chart)) {
        const Stretch stretch(chart, std::move(bars));
        stretch.find(0, stretch.size(), found);
    }
    return found;
}

}  // namespace relead::rules
