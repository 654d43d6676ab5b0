#include "rules/chart.h"

#include <algorithm>
#include <map>

#include "text/render.h"
#include "tune/unfold.h"

namespace relead::rules {
namespace {

using BarRef = std::pair<int, int>;  // section, bar

class ChartMaker {
public:
    ChartMaker(const tune::Tune& tune, const analysis::Analysis& analysis)
        : tune_(tune), analysis_(analysis) {}

    Chart run() {
        chart_.tune = &tune_;
        chart_.home = analysis_.home;
        chart_.melodies = std::make_shared<const Melodies>(tune_);
        for (std::size_t s = 0; s < tune_.sections.size(); ++s) add_section(static_cast<int>(s));
        resolve_targets();
        follow_playing_orders();
        return std::move(chart_);
    }

private:
    void add_section(int s) {
        const auto& section = tune_.sections[static_cast<std::size_t>(s)];
        auto tempo = section.tempo;
        Time start = 0;
        for (std::size_t b = 0; b < section.bars.size(); ++b) {
            const auto& bar = section.bars[b];
            if (bar.new_tempo) tempo = *bar.new_tempo;
            first_spot_[{s, static_cast<int>(b)}] = chart_.size();
            for (std::size_t c = 0; c < bar.changes.size(); ++c)
                add_spot({s, static_cast<int>(b), static_cast<int>(c)}, bar, start, tempo);
            start += bar.length;
        }
    }
    void add_spot(tune::ChordRef ref, const tune::Bar& bar, Time bar_start, const tune::Tempo& tempo) {
        const auto& event = bar.changes[static_cast<std::size_t>(ref.chord)];
        Spot spot;
        spot.ref = ref;
        spot.put(event.chord);
        spot.bar_start = bar_start;
        spot.start = bar_start + event.at;
        spot.length = event.length;
        spot.beat_length = bar.meter.beat_length();
        spot.beats_in_bar = static_cast<int>(bar.meter.in_beats(bar.meter.bar_length()).floor());
        spot.bar_number = bar.number;
        spot.seconds = spot.beats().to_double() * 60.0 / std::max(1, tempo.beats_per_minute);
        spot.key = tune::key_at(tune_.sections[static_cast<std::size_t>(ref.section)], ref.bar);
        spot.early = early(event.push);
        spot.locked = event.locked;
        spot.bass_written = bar.bass.has_value();
        spot.soloist_written = bar.soloist.has_value();
        spot.tutti = tutti_at(bar, event);
        const auto index = chart_.spots.size();
        if (index < analysis_.chords.size() && analysis_.chords[index].ref == ref)
            spot.fact = analysis_.chords[index];
        spot.written_first = spot.written_last = static_cast<int>(index);
        chart_.spots.push_back(std::move(spot));
    }
    static Time early(tune::Push push) {
        return push == tune::Push::eighth_early    ? Time(1, 8)
               : push == tune::Push::quarter_early ? Time(1, 4)
                                                   : Time(0);
    }
    /// Written hits and breaks hold for their whole bar: what is silent between them is written too. A
    /// fermata holds the last chord of its bar.
    static Tutti tutti_at(const tune::Bar& bar, const tune::ChordEvent& event) {
        const auto marked = [&](tune::Mark::Kind kind) {
            return std::any_of(bar.marks.begin(), bar.marks.end(),
                               [&](const tune::Mark& mark) { return mark.kind == kind; });
        };
        if (marked(tune::Mark::Kind::stop_time_break)) return Tutti::stop;
        if (bar.hits) return Tutti::hits;
        const bool last = event.at + event.length >= bar.length;
        return last && marked(tune::Mark::Kind::fermata) ? Tutti::fermata : Tutti::none;
    }
    void resolve_targets() {
        if (chart_.spots.empty()) return;
        for (auto& spot : chart_.spots) {
            const auto& fact = spot.fact;
            if (fact.applied_to >= 0) {
                spot.leads_to = chart_.at(spot_of(fact.applied_to)).chord;
            } else if (fact.target && fact.relation == analysis::Relation::prepares) {
                spot.leads_to = chart_.at(spot_of(*fact.target)).chord;
            }
        }
    }
    /// One past the last chord stands for the first chord of the next chorus.
    int spot_of(int chord) const { return chord < chart_.size() ? chord : first_played(); }
    int first_played() const {
        for (const auto& bar : tune::play_chorus(tune_, {false, false}).bars) {
            const auto found = first_spot_.find({bar.section, bar.bar});
            if (found != first_spot_.end() && bars_chords(bar.section, bar.bar) > 0) return found->second;
        }
        return 0;
    }
    int bars_chords(int section, int bar) const {
        const auto& bars = tune_.sections[static_cast<std::size_t>(section)].bars;
        return static_cast<int>(bars[static_cast<std::size_t>(bar)].changes.size());
    }
    std::vector<int> spots_of(const std::vector<tune::PlayedBar>& bars) const {
        std::vector<int> order;
        for (const auto& bar : bars) {
            const auto first = first_spot_.at({bar.section, bar.bar});
            for (int c = 0; c < bars_chords(bar.section, bar.bar); ++c) order.push_back(first + c);
        }
        return order;
    }
    void link(const std::vector<int>& order, bool around) {
        for (std::size_t i = 0; i + 1 < order.size(); ++i) link(order[i], order[i + 1]);
        if (around && !order.empty()) link(order.back(), order.front());
    }
    void link(int from, int to) {
        const auto insert = [](std::vector<int>& list, int value) {
            const auto at = std::lower_bound(list.begin(), list.end(), value);
            if (at == list.end() || *at != value) list.insert(at, value);
        };
        insert(chart_.spots[static_cast<std::size_t>(from)].next, to);
        insert(chart_.spots[static_cast<std::size_t>(to)].previous, from);
    }
    /// Choruses go round, the last one ends; and whatever else the running order joins.
    void follow_playing_orders() {
        const auto chorus = tune::play_chorus(tune_, {false, false}).bars;
        const auto order = spots_of(chorus);
        link(order, true);
        chart_.chorus = order;
        std::vector<int> all;
        for (const auto& played : tune::performance(tune_)) {
            const auto spots = spots_of(played.bars);
            all.insert(all.end(), spots.begin(), spots.end());
        }
        link(all, false);
        for (auto& spot : chart_.spots) spot.playings = 0;
        for (const int i : order) ++chart_.spots[static_cast<std::size_t>(i)].playings;
        for (auto& spot : chart_.spots) spot.playings = std::max(1, spot.playings);
        place_in_form(chorus);
        const auto last_chorus = tune::play_chorus(tune_, {true, false}).bars;
        place_in_form(last_chorus);
        chart_.last_chorus = spots_of(last_chorus);
    }
    void place_in_form(const std::vector<tune::PlayedBar>& bars) {
        for (std::size_t i = 0; i < bars.size();) {
            auto end = i + 1;
            while (end < bars.size() && bars[end].section == bars[i].section &&
                   bars[end].playing == bars[i].playing)
                ++end;
            for (auto k = i; k < end; ++k) {
                widen(bars[k], &Spot::in_section, k - i, end - 1 - k);
                widen(bars[k], &Spot::in_chorus, k, bars.size() - 1 - k);
            }
            i = end;
        }
    }
    void widen(const tune::PlayedBar& bar, FormPosition Spot::*position, std::size_t before,
               std::size_t after) {
        const auto first = first_spot_.at({bar.section, bar.bar});
        for (int c = 0; c < bars_chords(bar.section, bar.bar); ++c) {
            auto& place = chart_.spots[static_cast<std::size_t>(first + c)].*position;
            const bool first_time = place.from_start < 0;
            const auto start = static_cast<int>(before), left = static_cast<int>(after);
            place.least_from_start = first_time ? start : std::min(place.least_from_start, start);
            place.least_from_end = first_time ? left : std::min(place.least_from_end, left);
            place.from_start = std::max(place.from_start, start);
            place.from_end = std::max(place.from_end, left);
        }
    }

    const tune::Tune& tune_;
    const analysis::Analysis& analysis_;
    Chart chart_;
    std::map<BarRef, int> first_spot_;
};

}  // namespace

bool Chart::joined(int i) const {
    if (i < 0 || i + 1 >= size()) return false;
    const auto& here = at(i);
    const auto& there = at(i + 1);
    return here.ref.section == there.ref.section && here.next.size() == 1 && here.next.front() == i + 1 &&
           there.previous.size() == 1 && there.previous.front() == i;
}

Chart make_chart(const tune::Tune& tune, const analysis::Analysis& analysis) {
    return ChartMaker(tune, analysis).run();
}

Chart cut(const Chart& chart, int begin, int end) {
    Chart part;
    part.tune = chart.tune;
    part.home = chart.home;
    part.melodies = chart.melodies;
    part.written = chart.written ? chart.written : &chart;
    for (int i = begin; i < end; ++i) {
        auto spot = chart.at(i);
        spot.previous.clear();
        spot.next.clear();
        if (i > begin) spot.previous = {i - 1 - begin};
        if (i + 1 < end) spot.next = {i + 1 - begin};
        part.spots.push_back(std::move(spot));
    }
    return part;
}

std::string place_name(const Chart& chart, int spot) {
    auto place = tune::place_of(*chart.tune, chart.at(spot).ref);
    if (place.beat == 1) place.beat = 0;
    return text::to_string(place);
}

}  // namespace relead::rules
