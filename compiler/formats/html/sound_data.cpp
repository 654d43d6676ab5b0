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

}  // namespace

std::string sound_json(const report::Listening& page, const SymbolIds& symbols) {
    std::string bars = "[";
    for (const auto& bar : page.comparison.bars) {
        bars += fmt::format("{}[{},{}]", bars.size() > 1 ? "," : "", ticks(bar.start), ticks(bar.length));
    }
    bars += "]";
    double quarters = page.comparison.beats_per_minute;
    double swing = 0.5;
    Time grid = 0;
    if (!page.performances.empty()) {
        swing = page.performances.front().swing;
        grid = page.performances.front().grid - page.performances.front().count_in;
        if (!page.performances.front().tempi.empty()) {
            quarters = page.performances.front().tempi.front().quarters_per_minute;
        }
    }
    return fmt::format(
        "{{\"bars\":{},\n\"quarters\":{:.4g},\"beats\":{},\"swing\":{:.3g},\"grid\":{},\n\"rows\":{},"
        "\n\"symbols\":{}}}",
        bars, quarters, page.comparison.beats_per_minute, swing, ticks(grid), rows_json(page),
        symbols.json());
}

}  // namespace relead::formats::html
