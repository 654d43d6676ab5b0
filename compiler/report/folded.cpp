#include "report/folded.h"

#include <algorithm>

#include "base/fmt.h"
#include "tune/spot.h"

namespace relead::report {

namespace {

/// One playing of one section: its bars, first to last.
struct Playing {
    std::string section;
    int playing = 1;
    std::vector<std::size_t> bars;
    std::pair<int, int> chorus_bars;
};

std::vector<Playing> playings_of(const Comparison& comparison) {
    std::vector<Playing> all;
    int count = 0;
    for (std::size_t i = 0; i < comparison.bars.size(); ++i) {
        const auto& bar = comparison.bars[i];
        if (all.empty() || all.back().section != bar.section || all.back().playing != bar.playing)
            all.push_back({bar.section, bar.playing, {}, {count + 1, count}});
        all.back().bars.push_back(i);
        if (bar.number > 0) all.back().chorus_bars.second = ++count;
    }
    return all;
}

bool same_row(const std::vector<ComparedChord>& a, const std::vector<ComparedChord>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
        return x.at == y.at && x.length == y.length && x.chord == y.chord && x.changed == y.changed;
    });
}

bool same_bar(const ComparedBar& a, const ComparedBar& b) {
    return std::equal(a.rows.begin(), a.rows.end(), b.rows.begin(), b.rows.end(), same_row);
}

class Folding {
public:
    explicit Folding(const Comparison& comparison) : comparison_(comparison) {}

    std::vector<FoldedSection> run() {
        for (const auto& playing : playings_of(comparison_)) place(playing);
        for (auto& section : folded_) {
            section.all_playings = std::count_if(folded_.begin(), folded_.end(), [&](const auto& other) {
                                       return other.section == section.section;
                                   }) == 1;
            std::stable_sort(section.bars.begin(), section.bars.end(), [&](std::size_t a, std::size_t b) {
                return comparison_.bars[a].number < comparison_.bars[b].number;
            });
        }
        return std::move(folded_);
    }

private:
    [[nodiscard]] const std::size_t* find(const std::vector<std::size_t>& bars, int number) const {
        const auto found = std::find_if(bars.begin(), bars.end(), [&](std::size_t index) {
            return comparison_.bars[index].number == number;
        });
        return found == bars.end() ? nullptr : &*found;
    }

    [[nodiscard]] bool agree(const std::vector<std::size_t>& shown,
                             const std::vector<std::size_t>& more) const {
        return std::all_of(more.begin(), more.end(), [&](std::size_t index) {
            const auto* known = find(shown, comparison_.bars[index].number);
            return known == nullptr || same_bar(comparison_.bars[*known], comparison_.bars[index]);
        });
    }

    void place(const Playing& playing) {
        auto target = std::find_if(folded_.begin(), folded_.end(), [&](const FoldedSection& section) {
            return section.section == playing.section && agree(section.bars, playing.bars);
        });
        if (target == folded_.end()) {
            folded_.push_back({playing.section, {}, true, {}, {}});
            target = std::prev(folded_.end());
        }
        target->playings.push_back(playing.playing);
        if (playing.chorus_bars.second >= playing.chorus_bars.first)
            target->chorus_bars.push_back(playing.chorus_bars);
        for (const auto index : playing.bars) {
            if (find(target->bars, comparison_.bars[index].number) == nullptr) target->bars.push_back(index);
        }
    }

    const Comparison& comparison_;
    std::vector<FoldedSection> folded_;
};

std::string range_text(const std::pair<int, int>& range) {
    return range.first == range.second ? std::to_string(range.first)
                                       : fmt::format("{}-{}", range.first, range.second);
}

}  // namespace

std::vector<FoldedSection> fold(const Comparison& comparison) {
    return Folding(comparison).run();
}

std::string heading(const FoldedSection& section) {
    auto text = section.section;
    if (!section.all_playings) {
        std::vector<std::string> times;
        for (const int playing : section.playings) times.push_back(std::to_string(playing));
        text += fmt::format(", {} {}", times.size() == 1 ? "time" : "times", tune::listed(times));
    }
    if (section.chorus_bars.empty()) return text;
    const auto& first = section.chorus_bars.front();
    text += fmt::format(" ({} {}", first.first == first.second ? "bar" : "bars", range_text(first));
    std::vector<std::string> others;
    for (std::size_t i = 1; i < section.chorus_bars.size(); ++i)
        others.push_back(range_text(section.chorus_bars[i]));
    if (!others.empty()) text += ", also " + tune::listed(others);
    return text + ")";
}

}  // namespace relead::report
