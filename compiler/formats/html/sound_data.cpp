#include "formats/html/sound_data.h"

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

}  // namespace

std::string sound_json(const report::Listening& page, const SymbolIds& symbols) {
    std::string bars = "[";
    for (const auto& bar : page.comparison.bars) {
        bars += fmt::format("{}[{},{}]", bars.size() > 1 ? "," : "", ticks(bar.start), ticks(bar.length));
    }
    bars += "]";
    const auto first = page.performances.empty() ? score::Performance{} : page.performances.front();
    const double beats = page.comparison.beats_per_minute;
    const auto tempi = marks_json(first.tempi, first.count_in, beats,
                                  [](const score::TempoMark& mark) { return mark.quarters_per_minute; });
    const auto swings = marks_json(first.swings, first.count_in, first.swing,
                                   [](const score::SwingMark& mark) { return mark.swing; });
    return fmt::format(
        "{{\"bars\":{},\n\"beats\":{},\"grid\":{},\n\"tempi\":{},\n\"swings\":{},\n\"rows\":{},"
        "\n\"symbols\":{}}}",
        bars, beats, ticks(first.grid - first.count_in), tempi, swings, rows_json(page), symbols.json());
}

}  // namespace relead::formats::html
