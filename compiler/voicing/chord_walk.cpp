#include "voicing/chord_walk.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "tune/unfold.h"

namespace relead::voicing {

namespace {

class Walk {
public:
    Walk(const tune::Tune& tune, ChordRow row) : tune_(tune), row_(row) {}

    ChordWalk run() {
        list_chords();
        next_.resize(walk_.chords.size());
        previous_.resize(walk_.chords.size());
        walk_.chorus = chords_of(tune::play_chorus(tune_, {false, false}).bars);
        link(walk_.chorus);
        if (!walk_.chorus.empty()) link(walk_.chorus.back(), walk_.chorus.front());
        std::vector<int> all;
        for (const auto& played : tune::performance(tune_)) {
            const auto chords = chords_of(played.bars);
            all.insert(all.end(), chords.begin(), chords.end());
        }
        link(all);
        cut_runs();
        join_runs();
        return std::move(walk_);
    }

private:
    void list_chords() {
        for (std::size_t s = 0; s < tune_.sections.size(); ++s) {
            const auto& bars = tune_.sections[s].bars;
            for (std::size_t b = 0; b < bars.size(); ++b) {
                const std::pair place(static_cast<int>(s), static_cast<int>(b));
                first_of_[place] = static_cast<int>(walk_.chords.size());
                int index = 0;
                for (const auto& event : chords_in(bars[b], row_)) {
                    walk_.chords.push_back(event.chord);
                    walk_.refs.push_back({place.first, place.second, index++});
                }
            }
        }
    }
    [[nodiscard]] std::vector<int> chords_of(const std::vector<tune::PlayedBar>& bars) const {
        std::vector<int> chords;
        for (const auto& played : bars) {
            const auto& section = tune_.sections[static_cast<std::size_t>(played.section)];
            const auto& bar = section.bars[static_cast<std::size_t>(played.bar)];
            const int first = first_of_.at({played.section, played.bar});
            const int count = static_cast<int>(chords_in(bar, row_).size());
            for (int i = 0; i < count; ++i) chords.push_back(first + i);
        }
        return chords;
    }
    void link(int from, int to) {
        next_[static_cast<std::size_t>(from)].insert(to);
        previous_[static_cast<std::size_t>(to)].insert(from);
    }
    void link(const std::vector<int>& order) {
        for (std::size_t i = 0; i + 1 < order.size(); ++i) link(order[i], order[i + 1]);
    }
    /// Chord i + 1 and nothing else follows chord i, and nothing else leads to it.
    [[nodiscard]] bool always_followed(int i) const {
        const auto at = static_cast<std::size_t>(i);
        return next_[at] == std::set<int>{i + 1} && previous_[at + 1] == std::set<int>{i};
    }
    void cut_runs() {
        const int count = static_cast<int>(walk_.chords.size());
        for (int i = 0; i < count; ++i) {
            if (i == 0 || !always_followed(i - 1)) walk_.runs.push_back({i, i, 0});
            walk_.runs.back().last = i + 1;
            run_of_.push_back(static_cast<int>(walk_.runs.size()) - 1);
        }
        for (const int i : walk_.chorus) {
            auto& run = walk_.runs[static_cast<std::size_t>(run_of_[static_cast<std::size_t>(i)])];
            if (run.first == i) ++run.plays;
        }
        for (auto& run : walk_.runs) run.plays = std::max(1, run.plays);
    }
    [[nodiscard]] bool inside(int from, int to) const {
        return to == from + 1 &&
               run_of_[static_cast<std::size_t>(from)] == run_of_[static_cast<std::size_t>(to)];
    }
    void join_runs() {
        std::map<std::pair<int, int>, int> times;
        const auto joint = [&](int from, int to) -> int& {
            return times[{run_of_[static_cast<std::size_t>(from)], run_of_[static_cast<std::size_t>(to)]}];
        };
        for (std::size_t i = 0; i < next_.size(); ++i) {
            for (const int to : next_[i]) {
                if (!inside(static_cast<int>(i), to)) joint(static_cast<int>(i), to) = 0;
            }
        }
        const auto& order = walk_.chorus;
        for (std::size_t i = 0; i < order.size(); ++i) {
            const int to = order[(i + 1) % order.size()];
            if (!inside(order[i], to)) ++joint(order[i], to);
        }
        for (const auto& [ends, count] : times)
            walk_.joints.push_back({ends.first, ends.second, std::max(1, count)});
    }

    const tune::Tune& tune_;
    ChordRow row_;
    ChordWalk walk_;
    std::map<std::pair<int, int>, int> first_of_;  // section, bar
    std::vector<std::set<int>> next_, previous_;
    std::vector<int> run_of_;
};

}  // namespace

ChordWalk walk_chords(const tune::Tune& tune, ChordRow row) {
    return Walk(tune, row).run();
}

ChordWalk walk_chords(std::vector<theory::Chord> chords, bool around) {
    ChordWalk walk;
    const int count = static_cast<int>(chords.size());
    walk.chords = std::move(chords);
    for (int i = 0; i < count; ++i) {
        walk.refs.push_back({0, 0, i});
        walk.chorus.push_back(i);
    }
    if (count == 0) return walk;
    walk.runs.push_back({0, count, 1});
    if (around) walk.joints.push_back({0, 0, 1});
    return walk;
}

const std::vector<tune::ChordEvent>& chords_in(const tune::Bar& bar, ChordRow row) {
    return row == ChordRow::soloist && bar.soloist ? *bar.soloist : bar.changes;
}

}  // namespace relead::voicing
