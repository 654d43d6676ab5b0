#include "rules/placement.h"

#include <algorithm>

namespace relead::rules {
namespace {

Applied applied(const Chart& chart, const Candidate& candidate) {
    Applied one{candidate.rule, candidate.why, {}, {}};
    for (int i = candidate.begin; i < candidate.end; ++i) one.old_chords.push_back(chart.at(i).chord);
    for (const auto& chord : candidate.chords) one.new_chords.push_back(chord.chord);
    return one;
}

int interval_up(const theory::Chord& from, const theory::Chord& to) {
    return (theory::pitch_class(to.root) - theory::pitch_class(from.root) + 12) % 12;
}

/// What a chord that a rule wrote does, from the chord that follows it.
analysis::Function function_of(const theory::Chord& chord, const theory::Chord* next, const Chart& chart,
                               const theory::Key& local) {
    using F = analysis::Function;
    const int up = next ? interval_up(chord, *next) : -1;
    switch (kind_of(chord)) {
        case dominant:
            if (up == 5) return F::dominant;
            if (up == 11) return F::substitute_dominant;
            if (up == 2 && theory::pitch_class(next->root) == theory::pitch_class(chart.home.tonic))
                return F::backdoor;
            return F::other;
        case suspended:
            return up == 5 || up == 0 ? F::dominant : F::other;
        case minor_seventh:
        case minor_triad:
        case half_diminished:
            return up == 5 && is_a(*next, dominant | suspended) ? F::predominant : F::borrowed;
        case diminished:
            return up == 0                 ? F::auxiliary_diminished
                   : (up == 1 || up == 11) ? F::passing_diminished
                                           : F::other;
        default:
            break;
    }
    return theory::pitch_class(chord.root) == theory::pitch_class(local.tonic) ? F::tonic : F::borrowed;
}

class ChartLayer {
public:
    ChartLayer(const Chart& written, const std::vector<Placement>& placements)
        : written_(written), placements_(placements) {}

    MadeChart run() {
        made_.chart.tune = written_.tune;
        made_.chart.home = written_.home;
        made_.chart.written = &written_;
        first_.assign(written_.spots.size(), 0);
        last_.assign(written_.spots.size(), 0);
        std::size_t next = 0;
        for (int i = 0; i < written_.size();) {
            if (next < placements_.size() && placements_[next].begin == i) {
                lay(static_cast<int>(next));
                i = placements_[next++].end;
            } else {
                keep(i++);
            }
        }
        link();
        for (std::size_t i = 0; i < made_.chart.spots.size(); ++i) hear(static_cast<int>(i));
        return std::move(made_);
    }

private:
    void keep(int i) {
        first_[static_cast<std::size_t>(i)] = last_[static_cast<std::size_t>(i)] = made_.chart.size();
        made_.chart.spots.push_back(written_.at(i));
        made_.placement_of.push_back(-1);
    }
    void lay(int index) {
        const auto& placement = placements_[static_cast<std::size_t>(index)];
        const auto span_start = written_.at(placement.begin).start;
        const int first_new = made_.chart.size();
        for (const auto& chord : placement.chords) {
            const auto start = span_start + chord.at;
            auto spot = written_at(placement, start);
            const auto rate = spot.seconds / std::max(1e-9, spot.length.to_double());
            spot.chord = chord.chord;
            spot.start = start;
            spot.length = chord.length;
            spot.seconds = rate * chord.length.to_double();
            spot.made = !chord.kept_from.has_value();
            spot.written_last = last_written(placement, start + chord.length);
            made_.chart.spots.push_back(std::move(spot));
            made_.placement_of.push_back(index);
        }
        for (int i = placement.begin; i < placement.end; ++i) {
            first_[static_cast<std::size_t>(i)] = i == placement.begin ? first_new : covering(first_new, i);
            last_[static_cast<std::size_t>(i)] = made_.chart.size() - 1;
        }
    }
    /// The written spot that sounds at a time of the placement, as a pattern for the new one.
    Spot written_at(const Placement& placement, Time time) const {
        int i = placement.begin;
        while (i + 1 < placement.end && written_.at(i + 1).start <= time) ++i;
        auto spot = written_.at(i);
        spot.written_first = spot.written_last = i;
        const auto bar = spot.beat_length * Fraction(std::max(1, spot.beats_in_bar));
        while (time >= spot.bar_start + bar) {
            spot.bar_start += bar;
            ++spot.bar_number;
        }
        return spot;
    }
    int last_written(const Placement& placement, Time end) const {
        int i = placement.end - 1;
        while (i > placement.begin && written_.at(i).start >= end) --i;
        return i;
    }
    /// The new spot that sounds where written spot `i` started.
    int covering(int first_new, int i) const {
        int k = first_new;
        while (k + 1 < made_.chart.size() && made_.chart.at(k + 1).start <= written_.at(i).start) ++k;
        return k;
    }
    void link() {
        for (int i = 0; i < made_.chart.size(); ++i) {
            auto& spot = made_.chart.spots[static_cast<std::size_t>(i)];
            const int placement = made_.placement_of[static_cast<std::size_t>(i)];
            const bool opens =
                placement < 0 || i == 0 || made_.placement_of[static_cast<std::size_t>(i) - 1] != placement;
            const bool closes = placement < 0 || i + 1 == made_.chart.size() ||
                                made_.placement_of[static_cast<std::size_t>(i) + 1] != placement;
            if (placement >= 0) {
                const auto& span = placements_[static_cast<std::size_t>(placement)];
                spot.previous = written_.at(span.begin).previous;
                spot.next = written_.at(span.end - 1).next;
            }
            for (auto& j : spot.previous) j = last_[static_cast<std::size_t>(j)];
            for (auto& j : spot.next) j = first_[static_cast<std::size_t>(j)];
            if (!opens) spot.previous = {i - 1};
            if (!closes) spot.next = {i + 1};
            if (spot.target >= 0) spot.target = first_[static_cast<std::size_t>(spot.target)];
        }
    }
    void hear(int i) {
        auto& spot = made_.chart.spots[static_cast<std::size_t>(i)];
        const int placement = made_.placement_of[static_cast<std::size_t>(i)];
        if (placement < 0) return;
        const bool inner =
            i + 1 < made_.chart.size() && made_.placement_of[static_cast<std::size_t>(i) + 1] == placement;
        if (inner) spot.target = i + 1;
        if (!inner) {
            const auto& last = written_.at(placements_[static_cast<std::size_t>(placement)].end - 1);
            spot.target = last.target < 0 ? -1 : first_[static_cast<std::size_t>(last.target)];
        }
        spot.fact.target.reset();
        if (!spot.made) return;
        const auto* next = spot.next.empty() ? nullptr : &made_.chart.at(spot.next.front()).chord;
        spot.fact.relation = analysis::Relation::prepares;
        spot.fact.function = function_of(spot.chord, next, made_.chart, spot.fact.local_key);
        spot.fact.related_ii = spot.fact.function == analysis::Function::predominant;
        spot.fact.blues_tonic = false;
    }

    const Chart& written_;
    const std::vector<Placement>& placements_;
    MadeChart made_;
    std::vector<int> first_, last_;  ///< per written spot: where it begins, and ends, in the made chart
};

}  // namespace

Placement place(const Chart& written, const Candidate& candidate) {
    return {candidate.begin, candidate.end, candidate.chords, {applied(written, candidate)}};
}

MadeChart chart_with(const Chart& written, const std::vector<Placement>& placements) {
    return ChartLayer(written, placements).run();
}

Placement stack(const Chart& written, const MadeChart& made, const std::vector<Placement>& placements,
                const Candidate& candidate) {
    Placement result;
    const auto owner = [&](int spot) { return made.placement_of[static_cast<std::size_t>(spot)]; };
    const auto& first = made.chart.at(candidate.begin);
    const auto& last = made.chart.at(candidate.end - 1);
    result.begin = owner(candidate.begin) < 0
                       ? first.written_first
                       : placements[static_cast<std::size_t>(owner(candidate.begin))].begin;
    result.end = owner(candidate.end - 1) < 0
                     ? last.written_last + 1
                     : placements[static_cast<std::size_t>(owner(candidate.end - 1))].end;
    const auto start = written.at(result.begin).start;
    const auto keep = [&](int i) {
        const auto& spot = made.chart.at(i);
        NewChord chord{spot.chord, spot.chord, spot.start - start, spot.length, candidate.rule, 0, {}};
        const int from = owner(i);
        if (from < 0) {
            chord.kept_from = spot.written_first;
        } else {
            const auto& placement = placements[static_cast<std::size_t>(from)];
            const auto offset = written.at(placement.begin).start - start;
            for (const auto& old : placement.chords) {
                if (old.at + offset != chord.at) continue;
                chord = old;
                chord.at += offset;
            }
        }
        result.chords.push_back(std::move(chord));
    };
    const auto in_span = [&](int i) {
        return i >= 0 && i < made.chart.size() && made.chart.at(i).ref.section == first.ref.section &&
               made.chart.at(i).start >= start && made.chart.at(i).start < written.at(result.end - 1).end();
    };
    int begin = candidate.begin;
    while (in_span(begin - 1)) --begin;
    for (int i = begin; i < candidate.begin; ++i) keep(i);
    const auto offset = first.start - start;
    for (auto chord : candidate.chords) {
        chord.at += offset;
        if (chord.kept_from) {
            const int made_spot = *chord.kept_from;
            chord.kept_from.reset();
            if (!made.chart.at(made_spot).made) chord.kept_from = made.chart.at(made_spot).written_first;
        }
        result.chords.push_back(std::move(chord));
    }
    for (int i = candidate.end; in_span(i); ++i) keep(i);
    std::vector<int> seen;
    for (int i = candidate.begin; i < candidate.end; ++i) {
        if (owner(i) < 0 || std::find(seen.begin(), seen.end(), owner(i)) != seen.end()) continue;
        seen.push_back(owner(i));
        const auto& before = placements[static_cast<std::size_t>(owner(i))].derivation;
        result.derivation.insert(result.derivation.end(), before.begin(), before.end());
    }
    result.derivation.push_back(applied(made.chart, candidate));
    return result;
}

}  // namespace relead::rules
