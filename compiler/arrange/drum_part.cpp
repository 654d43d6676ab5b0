#include "arrange/drum_part.h"

#include <algorithm>

#include "arrange/feel.h"
#include "arrange/strokes.h"
#include "arrange/tables/drum_patterns.h"

namespace relead::arrange {
namespace {

constexpr int stick = 37;
constexpr int snare = 38;
constexpr int kick = 36;
constexpr int ride = 51;
constexpr int crash = 49;
constexpr Time touch(1, 16);  // a stroke has no length of its own
constexpr int louder = 12;

class Drums {
public:
    explicit Drums(const BandBars& bars) : bars_(bars) {}

    [[nodiscard]] std::vector<score::SoundingNote> play() {
        count_in();
        const BandBar* before = nullptr;
        for (const auto& bar : bars_.bars) {
            if (bar.pickup) continue;
            play_bar(bar, before);
            before = &bar;
        }
        std::stable_sort(notes_.begin(), notes_.end(), [](const auto& a, const auto& b) {
            return a.at != b.at ? a.at < b.at : a.key < b.key;
        });
        return std::move(notes_);
    }

private:
    void strike(Time at, int key, int loudness) {
        notes_.push_back({at, touch, key, std::min(loudness, 127)});
    }

    /// "One, two, one two three four": the first of two bars is counted at half the rate.
    void count_in() {
        if (bars_.count_in == Time(0)) return;
        const auto first =
            std::find_if(bars_.bars.begin(), bars_.bars.end(), [](const auto& bar) { return !bar.pickup; });
        const auto& meter = first->bar->meter;
        const auto beats = counted_beats(meter);
        const auto length = meter.bar_length();
        for (Time at; at < bars_.count_in; at += length) {
            const bool sparse = bars_.count_in > length && at == Time(0);
            for (std::size_t i = 0; i < beats.size(); ++i) {
                const bool counted = !sparse || i == 0 || (beats.size() == 4 && i == 2);
                if (counted) strike(at + beats[i], stick, i == 0 ? 90 : 78);
            }
        }
    }

    void play_bar(const BandBar& bar, const BandBar* before) {
        const auto feel = feel_of(bar.tempo);
        const bool hits = bar.head && bar.bar->hits.has_value();
        if (feel.drums != "none") {
            if (bar.ends || bar.fermata) {
                if (!hits) strike(bar.at, crash, 64);
                if (!hits) strike(bar.at, kick, 56);
            } else if (!bar.hits_only) {
                keep_time(bar, feel.drums);
            }
        }
        if (!hits) return;
        const bool tied =
            before != nullptr && before->head && before->bar->hits && ties_over(*before->bar->hits);
        for (const auto& stroke : strokes_of_hits(*bar.bar->hits, tied)) {
            const bool held = stroke.length > touch;
            strike(bar.at + stroke.at, held ? crash : snare, held ? 70 : 76);
            strike(bar.at + stroke.at, kick, 70);
        }
    }

    void keep_time(const BandBar& bar, std::string_view style) {
        bool found = false;
        for (const auto& row : tables::drum_pattern_rows) {
            if (row.style != style || Time(row.eighths, 8) != bar.length) continue;
            found = true;
            for (const auto& stroke : read_strokes(row.strokes, bar.length))
                strike(bar.at + stroke.at, row.sound, row.loudness + (stroke.loud ? louder : 0));
        }
        if (found) return;
        for (const auto beat : counted_beats(bar.bar->meter))
            if (beat < bar.length) strike(bar.at + beat, ride, 48);
    }

    const BandBars& bars_;
    std::vector<score::SoundingNote> notes_;
};

}  // namespace

std::vector<Time> counted_beats(const tune::Meter& meter) {
    std::vector<Time> beats;
    Time at;
    if (!meter.groups.empty() && meter.unit > 4) {
        for (const int group : meter.groups) {
            beats.push_back(at);
            at += Time(group, meter.unit);
        }
        return beats;
    }
    for (; at < meter.bar_length(); at += meter.beat_length()) beats.push_back(at);
    return beats;
}

std::vector<score::SoundingNote> drum_part(const BandBars& bars) {
    return Drums(bars).play();
}

}  // namespace relead::arrange
