#include "arrange/band_bars.h"

#include <algorithm>
#include <cctype>
#include <iterator>

#include "tune/signs.h"

namespace relead::arrange {
namespace {

using tune::Mark;

std::string lower(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

bool says_stop_time(const tune::Bar& bar) {
    return std::any_of(bar.marks.begin(), bar.marks.end(), [](const Mark& mark) {
        const auto text = lower(mark.text);
        return mark.kind == Mark::Kind::text &&
               (text.find("stop-time") != std::string::npos || text.find("stop time") != std::string::npos);
    });
}

std::optional<theory::Key> key_in(const tune::Section& section, int index) {
    bool open = section.open_key;
    for (int i = 0; i <= index; ++i)
        if (const auto& bar = section.bars[static_cast<std::size_t>(i)]; bar.new_key) open = bar.opens_key;
    if (open) return std::nullopt;
    return tune::key_at(section, index);
}

/// Where the last note of the bar begins, or its last chord where no melody is known.
Time last_onset(const tune::Bar& bar) {
    Time onset = bar.changes.empty() ? Time(0) : bar.changes.back().at;
    if (!bar.melody) return onset;
    std::optional<Time> note;
    for (const auto& event : *bar.melody)
        if (event.kind == tune::NoteEvent::Kind::note) note = event.at;
    return note.value_or(onset);
}

class Layer {
public:
    Layer(const tune::Tune& tune, const PerformWish& wish) : tune_(tune), wish_(wish) {}

    [[nodiscard]] BandBars lay() {
        const auto version = choruses_of(tune_);
        const auto written = wish_.written != nullptr ? choruses_of(*wish_.written) : version;
        start_count_in(version);
        for (std::size_t i = 0; i < version.size(); ++i) {
            const bool stays = i < written.size() && wish_.written != nullptr && !wish_.one_chorus &&
                               stays_written(version[i].item, version);
            result_.choruses.push_back(version[i].item);
            lay_chorus(stays ? *wish_.written : tune_, stays ? written[i] : version[i], static_cast<int>(i));
        }
        if (!result_.bars.empty() && !wish_.one_chorus) result_.bars.back().ends = true;
        result_.length = now_;
        if (!wish_.one_chorus) slow_down();
        return std::move(result_);
    }

private:
    [[nodiscard]] std::vector<tune::PlayedChorus> choruses_of(const tune::Tune& tune) const {
        if (!wish_.one_chorus) return tune::performance(tune);
        return {{tune::RunningItem{}, tune::one_chorus(tune)}};
    }

    void start_count_in(const std::vector<tune::PlayedChorus>& choruses) {
        if (wish_.one_chorus || !wish_.count_in || choruses.empty()) return;
        const auto first =
            std::find_if(choruses.front().bars.begin(), choruses.front().bars.end(),
                         [&](const auto& played) { return bar_of(tune_, played).number != 0; });
        if (first == choruses.front().bars.end()) return;
        const auto& bar = bar_of(tune_, *first);
        const auto& section = tune_.sections[static_cast<std::size_t>(first->section)];
        now_ = bar.meter.bar_length() * bars_of_count_in(tempo_in(section, first->bar), bar.meter);
        result_.count_in = now_;
    }

    static const tune::Bar& bar_of(const tune::Tune& tune, const tune::PlayedBar& played) {
        return tune::bar_at(tune, {played.section, played.bar});
    }

    [[nodiscard]] bool stays_written(const tune::RunningItem& item,
                                     const std::vector<tune::PlayedChorus>& all) const {
        const auto follows = [&](const tune::RunningItem& one) {
            const bool solo = is_solo(one);
            if (wish_.where == tune::Plan::Where::solos) return solo;
            if (wish_.where == tune::Plan::Where::head) return !solo;
            return one.changes != tune::RunningItem::Changes::written;
        };
        // A version that no chorus would play is played in all of them.
        const bool somewhere =
            std::any_of(all.begin(), all.end(), [&](const auto& chorus) { return follows(chorus.item); });
        return somewhere && !follows(item);
    }

    void lay_chorus(const tune::Tune& tune, const tune::PlayedChorus& chorus, int number) {
        bool stop_time = false;
        bool opened = false;
        int before = -1;
        int playing = -1;
        for (const auto& played : chorus.bars) {
            auto bar = dress(tune, played, number, chorus.item);
            // A pickup belongs to what it leads to: marks stand on the first full bar.
            bar.opens_chorus = !bar.pickup && !opened;
            bar.opens_section = !bar.pickup && (!opened || played.section != before ||
                                                played.playing != playing || begins(bar));
            opened = opened || !bar.pickup;
            before = played.section;
            playing = played.playing;
            stop_time = bar.head && bar.bar->hits && (stop_time || says_stop_time(*bar.bar));
            bar.hits_only = bar.head && (stop_time || tune::has_mark(*bar.bar, Mark::Kind::stop_time_break));
            put(bar);
        }
    }

    /// Its section's first bar but the pickup.
    static bool begins(const BandBar& bar) { return bar.bar->number == 1; }

    static BandBar dress(const tune::Tune& tune, const tune::PlayedBar& played, int number,
                         const tune::RunningItem& item) {
        const auto& section = tune.sections[static_cast<std::size_t>(played.section)];
        BandBar bar;
        bar.tune = &tune;
        bar.bar = &section.bars[static_cast<std::size_t>(played.bar)];
        bar.section = played.section;
        bar.index = played.bar;
        bar.chorus = number;
        bar.length = bar.bar->length;
        bar.tempo = tempo_in(section, played.bar);
        bar.key = key_in(section, played.bar);
        bar.pickup = bar.bar->number == 0;
        bar.head = !is_solo(item);
        return bar;
    }

    /// A pickup takes no time of its own but at the very start of a performance without count-in.
    void put(BandBar bar) {
        if (bar.pickup && now_ >= bar.length) {
            bar.at = now_ - bar.length;
        } else {
            bar.at = now_;
            now_ += bar.length;
        }
        if (!bar.pickup && !first_full_) {
            result_.first_bar = bar.at;
            first_full_ = true;
        }
        result_.bars.push_back(std::move(bar));
    }

    /// Marks which bars are slow: the last chorus as written, earlier ones only up to an `a tempo`.
    void slow_down() {
        auto& bars = result_.bars;
        for (std::size_t i = 0; i < bars.size(); ++i) {
            const bool last = bars[i].chorus + 1 == static_cast<int>(result_.choruses.size());
            if (!last && !bars[i].head) continue;
            const auto back = tempo_returns(i);
            if (!last && back >= bars.size()) continue;
            if (tune::has_mark(*bars[i].bar, Mark::Kind::fermata)) bars[i].fermata = last_onset(*bars[i].bar);
            if (!tune::has_mark(*bars[i].bar, Mark::Kind::ritard) || bars[i].slowed) continue;
            bars[i].ritard_ends = bars[i].length;
            for (std::size_t j = i + 1; j < std::min(back, bars.size()); ++j) bars[j].slowed = true;
        }
    }

    /// The bar after `from` in whose chorus the tempo is taken up again; the count of bars when the
    /// chorus ends before.
    [[nodiscard]] std::size_t tempo_returns(std::size_t from) const {
        const auto& bars = result_.bars;
        for (std::size_t i = from + 1; i < bars.size() && bars[i].chorus == bars[from].chorus; ++i)
            if (tune::has_mark(*bars[i].bar, Mark::Kind::a_tempo) || !(bars[i].tempo == bars[from].tempo))
                return i;
        return bars.size();
    }

    const tune::Tune& tune_;
    const PerformWish& wish_;
    BandBars result_;
    Time now_;
    bool first_full_ = false;
};

}  // namespace

tune::Tempo tempo_in(const tune::Section& section, int index) {
    auto tempo = section.tempo;
    for (int i = 0; i <= index; ++i)
        if (const auto& bar = section.bars[static_cast<std::size_t>(i)]; bar.new_tempo)
            tempo = *bar.new_tempo;
    return tempo;
}

bool is_solo(const tune::RunningItem& item) {
    return item.open || item.each_soloist || !item.soloist.empty() || lower(item.name).rfind("solo", 0) == 0;
}

int bars_of_count_in(const tune::Tempo& tempo, const tune::Meter& meter) {
    const double beats = meter.in_beats(meter.bar_length()).to_double();
    return beats * 60.0 / tempo.beats_per_minute < 2.0 ? 2 : 1;
}

BandBars band_bars(const tune::Tune& tune, const PerformWish& wish) {
    return Layer(tune, wish).lay();
}

}  // namespace relead::arrange
