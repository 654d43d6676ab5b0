#include "tune/unfold.h"

#include <algorithm>
#include <limits>

#include "tune/passages.h"
#include "tune/signs.h"

namespace relead::tune {
namespace {

constexpr int unknown_total = std::numeric_limits<int>::max();

enum class Flow { on, stop, jump };

/// Plays one chorus bar by bar. Every jump back is taken once, so it always ends.
class Walker {
public:
    Walker(const Tune& tune, const ChorusWish& wish, const Limits& limits, std::vector<int> totals)
        : tune_(tune),
          wish_(wish),
          limit_(static_cast<std::size_t>(std::max(limits.unfolded_bars, 1))),
          totals_(std::move(totals)),
          counts_(tune.sections.size(), 0) {
        if (tune.order.by_signs) signs_ = find_signs(tune);
    }

    void run() {
        if (tune_.order.form.empty()) return;
        const auto first_section = static_cast<std::size_t>(tune_.order.form.front());
        if (wish_.pickup && starts_with_pickup(tune_.sections[first_section]))
            emit(static_cast<int>(first_section), 0);
        std::size_t position = 0;
        int from = 0;
        while (position < tune_.order.form.size()) {
            const auto flow = play_section(tune_.order.form[position], from);
            if (flow == Flow::stop) return;
            if (flow == Flow::on) {
                ++position;
                from = 0;
                continue;
            }
            position = position_of(target_.section);
            from = target_.bar;
        }
    }

    [[nodiscard]] Chorus take() { return std::move(chorus_); }
    [[nodiscard]] const std::vector<int>& counts() const { return counts_; }

private:
    static bool starts_with_pickup(const Section& section) {
        return !section.bars.empty() && section.bars.front().number == 0;
    }

    [[nodiscard]] std::size_t position_of(int section) const {
        const auto& form = tune_.order.form;
        return static_cast<std::size_t>(std::find(form.begin(), form.end(), section) - form.begin());
    }

    Flow play_section(int section, int from) {
        auto& count = counts_[static_cast<std::size_t>(section)];
        if (!same_playing_) ++count;
        same_playing_ = false;
        for (const auto& passage : passages(tune_.sections[static_cast<std::size_t>(section)])) {
            const int end = passage.endings.empty() ? passage.last : passage.endings.back().last;
            if (end <= from) continue;
            const auto flow = play_passage(section, passage, from);
            if (flow != Flow::on) return flow;
        }
        return Flow::on;
    }

    Flow play_passage(int section, const Passage& passage, int from) {
        const bool once = returning_ || from > passage.first;
        for (int pass = once ? passage.times : 1; pass <= passage.times; ++pass) {
            last_pass_ = pass == passage.times;
            if (const auto flow = play_bars(section, std::max(passage.first, from), passage.last);
                flow != Flow::on)
                return flow;
            if (passage.endings.empty()) continue;
            const auto& ending = choose(passage, from, pass, section);
            if (const auto flow = play_bars(section, std::max(ending.first, from), ending.last);
                flow != Flow::on)
                return flow;
        }
        return Flow::on;
    }

    [[nodiscard]] const Ending& choose(const Passage& passage, int from, int pass, int section) const {
        const auto& endings = passage.endings;
        if (from > passage.last)  // a sign led into the middle of an ending
            for (const auto& ending : endings)
                if (from < ending.last) return ending;
        const int playing = counts_[static_cast<std::size_t>(section)];
        const int number = passage.repeated ? pass : playing;
        const bool final_one =
            passage.repeated ? pass == passage.times : playing == totals_[static_cast<std::size_t>(section)];
        const auto the_last = std::find_if(endings.begin(), endings.end(),
                                           [](const Ending& ending) { return ending.takes_last(); });
        if (!passage.repeated && wish_.last && final_one && the_last != endings.end()) return *the_last;
        for (const auto& ending : endings)
            if (ending.takes(number)) return ending;
        if (final_one && the_last != endings.end()) return *the_last;
        return nearest(endings);  // a gap, which the checks report
    }

    static const Ending& nearest(const std::vector<Ending>& endings) {
        const auto numbered = std::find_if(endings.rbegin(), endings.rend(),
                                           [](const Ending& ending) { return !ending.takes_last(); });
        return numbered == endings.rend() ? endings.front() : *numbered;
    }

    Flow play_bars(int section, int first, int last) {
        for (int bar = first; bar < last; ++bar) {
            if (stops_before({section, bar})) return Flow::stop;
            if (!emit(section, bar)) return Flow::stop;
            if (const auto flow = after({section, bar}); flow != Flow::on) return flow;
        }
        return Flow::on;
    }

    bool emit(int section, int bar) {
        if (chorus_.bars.size() >= limit_) {
            chorus_.cut = true;
            return false;
        }
        chorus_.bars.push_back(
            {section, bar, std::max(counts_[static_cast<std::size_t>(section)] - 1, 0), now_});
        now_ += tune_.sections[static_cast<std::size_t>(section)].bars[static_cast<std::size_t>(bar)].length;
        return true;
    }

    /// A coda that no D.S. leads to belongs to the last chorus only.
    [[nodiscard]] bool stops_before(BarRef bar) const {
        return signs_.coda == bar && signs_.to_coda && !signs_.jump && !coda_taken_;
    }

    Flow after(BarRef bar) {
        if (!tune_.order.by_signs) return Flow::on;
        const bool heads_for_coda = signs_.jump ? returning_ && signs_.returns_to_coda() : wish_.last;
        if (heads_for_coda && signs_.to_coda == bar && signs_.coda && last_pass_ && !coda_taken_)
            return jump_to(*signs_.coda, bar.section);
        if (returned_ && signs_.returns_to_fine() && signs_.fine == bar) return Flow::stop;
        if (signs_.jump == bar && !returned_ && last_pass_) {
            returned_ = returning_ = true;
            target_ = signs_.jump_target(tune_);
            return Flow::jump;
        }
        return Flow::on;
    }

    Flow jump_to(BarRef coda, int from_section) {
        coda_taken_ = true;
        returning_ = false;  // repeats after the coda sign were not played yet
        same_playing_ = coda.section == from_section;
        target_ = coda;
        return Flow::jump;
    }

    const Tune& tune_;
    ChorusWish wish_;
    std::size_t limit_;
    std::vector<int> totals_;
    std::vector<int> counts_;
    Signs signs_;
    Chorus chorus_;
    Time now_ = 0;
    BarRef target_;
    bool last_pass_ = true;
    bool returned_ = false;   // the D.C. or D.S. was taken
    bool returning_ = false;  // between it and the coda: repeats are not taken again
    bool coda_taken_ = false;
    bool same_playing_ = false;
};

void set_starts(const Tune& tune, std::vector<PlayedBar>& bars) {
    Time now = 0;
    for (auto& played : bars) {
        played.start = now;
        now += bar_at(tune, {played.section, played.bar}).length;
    }
}

/// One section alone, as an intro or a vamp.
std::vector<PlayedBar> play_alone(const Tune& tune, int section, const Limits& limits) {
    Tune alone = tune;
    alone.order.form = {section};
    alone.order.by_signs = false;
    return play_chorus(alone, {true, false}, limits).bars;
}

void add_tag(const Tune& tune, const RunningItem& item, std::vector<PlayedBar>& bars) {
    const auto section = find_section(tune, item.tag->section);
    if (!section) return;
    std::vector<PlayedBar> tag;
    const auto& written = tune.sections[static_cast<std::size_t>(*section)].bars;
    for (std::size_t i = 0; i < written.size(); ++i)
        if (written[i].number >= item.tag->first_bar && written[i].number <= item.tag->last_bar &&
            written[i].number > 0)
            tag.push_back({*section, static_cast<int>(i), 0, 0});
    if (tag.empty()) return;
    const auto found = std::find_if(bars.rbegin(), bars.rend(), [&](const PlayedBar& played) {
        return played.section == tag.back().section && played.bar == tag.back().bar;
    });
    const int playing = found == bars.rend() ? 0 : found->playing;
    for (auto& played : tag) played.playing = playing;
    auto at = found == bars.rend() ? bars.end() : found.base();
    for (int time = 0; time < item.tag_times; ++time)
        at = bars.insert(at, tag.begin(), tag.end()) + static_cast<std::ptrdiff_t>(tag.size());
}

std::vector<PlayedBar> play_item(const Tune& tune, const RunningItem& item, const ChorusWish& wish,
                                 const Limits& limits) {
    if (const auto section = section_of_item(tune, item)) return play_alone(tune, *section, limits);
    auto bars = play_chorus(tune, wish, limits).bars;
    if (item.tag && wish.last == item.last) add_tag(tune, item, bars);
    if (const auto vamp = find_section(tune, item.vamp); vamp && !item.vamp.empty()) {
        auto before = play_alone(tune, *vamp, limits);
        bars.insert(bars.begin(), before.begin(), before.end());
    }
    set_starts(tune, bars);
    return bars;
}

}  // namespace

Chorus play_chorus(const Tune& tune, const ChorusWish& wish, const Limits& limits) {
    // The first walk counts how often each section is played, the second knows the last time.
    Walker counting(tune, wish, limits, std::vector<int>(tune.sections.size(), unknown_total));
    counting.run();
    Walker walker(tune, wish, limits, counting.counts());
    walker.run();
    return walker.take();
}

std::vector<PlayedBar> one_chorus(const Tune& tune, const Limits& limits) {
    return play_chorus(tune, {}, limits).bars;
}

std::vector<PlayedChord> played_chords(const Tune& tune, const Limits& limits) {
    std::vector<PlayedChord> chords;
    for (const auto& played : one_chorus(tune, limits)) {
        const auto& changes = bar_at(tune, {played.section, played.bar}).changes;
        for (std::size_t i = 0; i < changes.size(); ++i)
            chords.push_back({{played.section, played.bar, static_cast<int>(i)},
                              played.playing,
                              played.start + changes[i].at,
                              changes[i].length});
    }
    return chords;
}

std::optional<int> section_of_item(const Tune& tune, const RunningItem& item) {
    const auto section = find_section(tune, item.name);
    if (!section || tune.order.by_signs) return std::nullopt;
    const auto& form = tune.order.form;
    if (std::find(form.begin(), form.end(), *section) != form.end()) return std::nullopt;
    return section;
}

std::vector<PlayedChorus> performance(const Tune& tune, const Limits& limits) {
    auto items = tune.order.running;
    if (items.empty()) {
        RunningItem head;
        head.name = "Head";
        head.last = true;
        items.push_back(head);
    }
    std::vector<PlayedChorus> choruses;
    int bars_left = limits.unfolded_bars;
    for (const auto& item : items)
        for (int time = 1; time <= item.times && bars_left > 0; ++time) {
            const ChorusWish wish{item.last && time == item.times, choruses.empty()};
            Limits rest = limits;
            rest.unfolded_bars = bars_left;
            auto bars = play_item(tune, item, wish, rest);
            if (static_cast<int>(bars.size()) > bars_left) bars.resize(static_cast<std::size_t>(bars_left));
            bars_left -= static_cast<int>(bars.size());
            choruses.push_back({item, std::move(bars)});
        }
    return choruses;
}

}  // namespace relead::tune
