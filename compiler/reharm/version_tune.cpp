#include "reharm/version_tune.h"

#include <algorithm>

#include "base/fmt.h"
#include "tune/dump.h"

namespace relead::reharm {
namespace {

struct BarRange {
    Time start;
    Time length;
    int index = 0;
};

class TuneWriter {
public:
    TuneWriter(const tune::Tune& tune, const rules::Chart& chart, Row row)
        : result_(tune), chart_(chart), row_(row) {}

    void lay(const rules::Placement& placement) {
        const auto& first = chart_.at(placement.begin);
        auto& section = result_.sections[static_cast<std::size_t>(first.ref.section)];
        std::vector<int> bars;
        for (int i = placement.begin; i < placement.end; ++i) {
            if (bars.empty() || bars.back() != chart_.at(i).ref.bar) bars.push_back(chart_.at(i).ref.bar);
        }
        Time bar_start = first.bar_start;
        for (const int index : bars) {
            auto& bar = section.bars[static_cast<std::size_t>(index)];
            write_bar(bar, bar_start, placement, first.start);
            write_out_simile(section, index);
            bar_start += bar.length;
        }
    }
    tune::Tune take() { return std::move(result_); }

private:
    std::vector<tune::ChordEvent>& row_of(tune::Bar& bar) const {
        if (row_ == Row::changes) return bar.changes;
        if (!bar.soloist) bar.soloist = bar.changes;
        return *bar.soloist;
    }
    /// Old events outside the span stay; the new chords fill what it covers.
    void write_bar(tune::Bar& bar, Time bar_start, const rules::Placement& placement, Time span_start) {
        const auto span_end = chart_.at(placement.end - 1).end();
        auto& events = row_of(bar);
        std::vector<tune::ChordEvent> result;
        const auto old = events;
        const auto covered = [&](const tune::ChordEvent& event) {
            return bar_start + event.at >= span_start && bar_start + event.at < span_end;
        };
        for (const auto& event : old) {
            if (!covered(event)) result.push_back(event);
        }
        for (const auto& chord : placement.chords) {
            const auto from = std::max(span_start + chord.at, bar_start);
            const auto to = std::min(span_start + chord.at + chord.length, bar_start + bar.length);
            if (to <= from) continue;
            tune::ChordEvent event;
            event.chord = chord.chord;
            event.at = from - bar_start;
            event.length = to - from;
            for (const auto& before : old) {
                if (before.at != event.at) continue;
                event.push = before.push;
                event.span = before.span;
                event.locked = before.locked && chord.kept_from.has_value();
            }
            result.push_back(std::move(event));
        }
        std::sort(result.begin(), result.end(), [](const auto& a, const auto& b) { return a.at < b.at; });
        events = std::move(result);
        if (row_ == Row::changes) bar.simile = false;
    }
    void write_out_simile(tune::Section& section, int index) const {
        const auto next = static_cast<std::size_t>(index) + 1;
        if (row_ == Row::changes && next < section.bars.size()) section.bars[next].simile = false;
    }

    tune::Tune result_;
    const rules::Chart& chart_;
    Row row_;
};

}  // namespace

tune::Tune lay_into_tune(const tune::Tune& tune, const rules::Chart& chart,
                         const std::vector<rules::Placement>& placements, Row row) {
    TuneWriter writer(tune, chart, row);
    for (const auto& placement : placements) writer.lay(placement);
    return writer.take();
}

std::string stamp_hash(const tune::Tune& tune) {
    auto bare = tune;
    bare.stamp.reset();
    // FNV-1a, 64 bits folded to 32: stable on every machine.
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : tune::dump(bare)) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 1099511628211ULL;
    }
    return fmt::format("{:08x}", static_cast<std::uint32_t>(hash ^ (hash >> 32U)));
}

}  // namespace relead::reharm
