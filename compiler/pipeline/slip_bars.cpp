#include "pipeline/slip_bars.h"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "arrange/sheet_form.h"
#include "base/fmt.h"
#include "report/folded.h"
#include "tune/spot.h"
#include "tune/unfold.h"

namespace relead::pipeline {

namespace {

class Slip {
public:
    Slip(const Compared& compared, const Aligned& aligned, std::size_t row)
        : compared_(compared),
          row_(row),
          tune_(aligned.rows[row].tune),
          written_(aligned.written),
          changed_(aligned.rows[row].changed),
          unfolded_(aligned.unfolded),
          chorus_(tune::one_chorus(compared.tune)) {
        const auto form = arrange::work_out_form(aligned.written, arrange::Jumps::when_it_saves_a_page);
        const auto measures = arrange::sign_measures(aligned.written, form);
        for (std::size_t i = 0; i < measures.size(); ++i)
            numbers_.push_back({{form.bars[i].section, form.bars[i].bar}, measures[i].number});
    }

    std::vector<arrange::SlipBar> run() {
        for (const auto& section : report::fold(only_this_row())) {
            const std::size_t* before = nullptr;
            for (const auto& index : section.bars) {
                if (differs(index)) add(section, index, before != nullptr && differs(*before));
                before = &index;
            }
        }
        return std::move(bars_);
    }

private:
    /// Other rows must not keep playings apart that are alike in this one.
    [[nodiscard]] report::Comparison only_this_row() const {
        report::Comparison comparison = compared_.comparison;
        comparison.rows = {comparison.rows[0], comparison.rows[row_]};
        for (auto& bar : comparison.bars) bar.rows = {bar.rows[0], bar.rows[row_]};
        return comparison;
    }
    [[nodiscard]] bool differs(std::size_t index) const {
        const auto& chords = compared_.comparison.bars[index].rows[row_];
        return std::any_of(chords.begin(), chords.end(), [](const auto& chord) { return chord.changed; });
    }

    void add(const report::FoldedSection& section, std::size_t index, bool follows) {
        const auto& bar = compared_.comparison.bars[index];
        arrange::SlipBar slip;
        slip.label = bar.number == 0 ? fmt::format("{}:pickup", bar.section)
                                     : fmt::format("{}:{}", bar.section, bar.number);
        // Once for each stretch: it holds until the next one is named.
        if (!section.all_playings && std::exchange(named_, &section) != &section)
            slip.label += fmt::format(" ({})", times(section));
        const auto& played = chorus_[index];
        slip.key =
            tune::key_at(compared_.tune.sections[static_cast<std::size_t>(played.section)], played.bar);
        const auto [s, b] = place_of(index);
        slip.number = number_of(s, b);
        slip.bar = tune_.sections[static_cast<std::size_t>(s)].bars[static_cast<std::size_t>(b)];
        slip.bar.marks.clear();
        slip.written = written_.sections[static_cast<std::size_t>(s)].bars[static_cast<std::size_t>(b)];
        slip.written.marks.clear();
        slip.changed.resize(slip.bar.changes.size());
        for (const auto& changed : changed_) {
            if (changed.ref.section == s && changed.ref.bar == b)
                slip.changed[static_cast<std::size_t>(changed.ref.chord)] = true;
        }
        slip.follows = follows;
        bars_.push_back(std::move(slip));
    }
    static std::string times(const report::FoldedSection& section) {
        std::vector<std::string> numbers;
        for (const int playing : section.playings) numbers.push_back(std::to_string(playing));
        return fmt::format("{} {}", numbers.size() == 1 ? "time" : "times", tune::listed(numbers));
    }
    /// On the compare sheet.
    [[nodiscard]] std::string number_of(int section, int bar) const {
        const auto found = std::find_if(numbers_.begin(), numbers_.end(), [&](const auto& entry) {
            return entry.first == std::pair(section, bar);
        });
        return found == numbers_.end() ? "" : found->second;
    }
    /// Section and bar in the row's tune.
    [[nodiscard]] std::pair<int, int> place_of(std::size_t index) const {
        if (!unfolded_) return {chorus_[index].section, chorus_[index].bar};
        std::size_t left = index;
        for (std::size_t s = 0; s < tune_.sections.size(); ++s) {
            const auto count = tune_.sections[s].bars.size();
            if (left < count) return {static_cast<int>(s), static_cast<int>(left)};
            left -= count;
        }
        return {0, 0};
    }

    const Compared& compared_;
    std::size_t row_;
    const tune::Tune& tune_;
    const tune::Tune& written_;
    const std::vector<arrange::ChangedChord>& changed_;
    bool unfolded_;
    std::vector<tune::PlayedBar> chorus_;
    std::vector<std::pair<std::pair<int, int>, std::string>> numbers_;
    const report::FoldedSection* named_ = nullptr;
    std::vector<arrange::SlipBar> bars_;
};

}  // namespace

std::vector<arrange::SlipBar> slip_bars(const Compared& compared, const Aligned& aligned, std::size_t row) {
    return Slip(compared, aligned, row).run();
}

}  // namespace relead::pipeline
