#include "formats/html/sound_data.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "base/fmt.h"

namespace relead::formats::html {

namespace {

using Role = score::SoundingVoice::Role;
constexpr std::array roles{Role::melody, Role::comping, Role::bass, Role::time, Role::guide_tones};
constexpr double ticks_in_whole = 1920;

long ticks(Time time) {
    return std::lround(time.to_double() * ticks_in_whole);
}

std::string voice_json(const score::Performance& performance, Role role) {
    std::string out = "[";
    long before = 0;
    for (const auto& voice : performance.voices) {
        if (voice.role != role) continue;
        for (const auto& note : voice.notes) {
            const auto at = ticks(note.at - performance.count_in);
            out += fmt::format("{}{},{},{},{}", out.size() > 1 ? "," : "", at - before,
                               std::max(1L, ticks(note.length)), note.key, note.loudness);
            before = at;
        }
    }
    return out + "]";
}

std::string rows_json(const report::Listening& page) {
    std::vector<std::array<std::string, roles.size()>> rows;
    std::string out = "[";
    for (std::size_t row = 0; row < page.comparison.rows.size(); ++row) {
        auto& voices = rows.emplace_back();
        out += row == 0 ? "[" : ",\n[";
        for (std::size_t v = 0; v < roles.size(); ++v) {
            voices[v] = row < page.performances.size() ? voice_json(page.performances[row], roles[v]) : "[]";
            auto text = voices[v];
            for (std::size_t earlier = 0; earlier < row; ++earlier) {
                if (text.size() > 2 && rows[earlier][v] == text) text = fmt::format("{}", earlier);
            }
            out += (v == 0 ? "" : ",") + text;
        }
        out += "]";
    }
    return out + "]";
}

/// [[tick, value], ...]: marks from the top of the chorus on. Of those at or before it the last counts, and
/// it stands at 0.
template <typename Mark, typename Value>
std::string marks_json(const std::vector<Mark>& marks, Time top, double otherwise, Value value) {
    std::string later;
    double first = marks.empty() ? otherwise : value(marks.front());
    for (const auto& mark : marks) {
        const auto at = ticks(mark.at - top);
        if (at <= 0) {
            first = value(mark);
        } else {
            later += fmt::format(",[{},{:.6g}]", at, value(mark));
        }
    }
    return fmt::format("[[0,{:.6g}]{}]", first, later);
}

std::string clock_json(const score::Performance& performance, int beats) {
    const auto tempi = marks_json(performance.tempi, performance.count_in, beats,
                                  [](const score::TempoMark& mark) { return mark.quarters_per_minute; });
    const auto swings = marks_json(performance.swings, performance.count_in, performance.swing,
                                   [](const score::SwingMark& mark) { return mark.swing; });
    return fmt::format("{{\"beats\":{},\"grid\":{},\n\"tempi\":{},\n\"swings\":{}}}", beats,
                       ticks(performance.grid - performance.count_in), tempi, swings);
}

/// How each row runs: its tempi and feels, or the number of an earlier row that runs alike.
std::string clocks_json(const report::Listening& page) {
    std::vector<std::string> clocks;
    std::string out = "[";
    for (std::size_t row = 0; row < page.comparison.rows.size(); ++row) {
        const auto text =
            clock_json(row < page.performances.size() ? page.performances[row] : score::Performance{},
                       own_beats(page, row));
        const auto alike = std::find(clocks.begin(), clocks.end(), text);
        out += row == 0 ? "" : ",";
        out += alike == clocks.end() ? text : fmt::format("{}", alike - clocks.begin());
        clocks.push_back(text);
    }
    return out + "]";
}

}  // namespace

int own_beats(const report::Listening& page, std::size_t row) {
    const auto quarters = [&](std::size_t index) {
        return index < page.performances.size() && !page.performances[index].tempi.empty()
                   ? page.performances[index].tempi.front().quarters_per_minute
                   : 0.0;
    };
    const int written = page.comparison.beats_per_minute;
    if (quarters(0) <= 0 || quarters(row) <= 0) return written;
    return static_cast<int>(std::lround(written * quarters(row) / quarters(0)));
}

std::string sound_json(const report::Listening& page, const SymbolIds& symbols) {
    std::string bars = "[";
    for (const auto& bar : page.comparison.bars) {
        bars += fmt::format("{}[{},{}]", bars.size() > 1 ? "," : "", ticks(bar.start), ticks(bar.length));
    }
    bars += "]";
    return fmt::format("{{\"bars\":{},\n\"clocks\":{},\n\"rows\":{},\n\"symbols\":{}}}", bars,
                       clocks_json(page), rows_json(page), symbols.json());
}

}  // namespace relead::formats::html
