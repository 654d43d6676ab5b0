#include "rules/placement.h"

#include <algorithm>
#include <tuple>

namespace relead::rules {
namespace {

Applied applied(const Chart& chart, const Candidate& candidate) {
    Applied one{candidate.rule, candidate.tonic, {}, {}, {}, {}};
    for (int i = candidate.begin; i < candidate.end; ++i) {
        // A chord that lasts over bar lines is one.
        const auto& chord = chart.at(i).chord;
        if (one.old_chords.empty() || one.old_chords.back() != chord) one.old_chords.push_back(chord);
    }
    for (const auto& chord : candidate.chords) one.new_chords.push_back(chord.chord);
    return one;
}

NewChord kept(const Chart& written, int spot, Time at, int rule) {
    NewChord chord{written.at(spot).chord, written.at(spot).chord, at, written.at(spot).length, rule, 0, {}};
    chord.kept_from = spot;
    return chord;
}
bool all_met(const std::vector<Need>& needs, const theory::Chord& chord) {
    return std::all_of(needs.begin(), needs.end(), [&](const Need& need) { return need.met_by(chord); });
}

/// What a chord that a rule wrote does, from the chord that follows it.
analysis::Function function_of(const theory::Chord& chord, const theory::Chord* next, const Chart& chart,
                               const theory::Key& local) {
    using F = analysis::Function;
    const int up = next ? theory::semitones_up(chord.root, next->root) : -1;
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
        made_.chart.melodies = written_.melodies;
        made_.chart.written = written_.written ? written_.written : &written_;
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
            spot.put(chord.chord);
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
        spot.written_last = spot.written_first;
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
        return written_.at(i).written_last;
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
        }
    }
    void hear(int i) {
        auto& spot = made_.chart.spots[static_cast<std::size_t>(i)];
        const int placement = made_.placement_of[static_cast<std::size_t>(i)];
        if (placement < 0) return;
        const bool inner =
            i + 1 < made_.chart.size() && made_.placement_of[static_cast<std::size_t>(i) + 1] == placement;
        if (inner) {
            spot.leads_to = made_.chart.at(i + 1).chord;
        } else {
            spot.leads_to = written_.at(placements_[static_cast<std::size_t>(placement)].end - 1).leads_to;
        }
        spot.fact.target.reset();
        if (!spot.made) return;
        const auto* next = spot.next.empty() ? nullptr : &made_.chart.at(spot.next.front()).chord;
        spot.fact.relation = analysis::Relation::prepares;
        spot.fact.function = function_of(spot.chord, next, made_.chart, spot.fact.local_key);
        spot.fact.related_ii = spot.fact.function == analysis::Function::predominant;
        spot.fact.blues_tonic = false;
        // A new chord that leads on leads to what follows it, wherever the old one led.
        if (next && !inner && leads_on(spot.fact.function)) spot.leads_to = *next;
    }
    static bool leads_on(analysis::Function function) {
        using F = analysis::Function;
        return function == F::dominant || function == F::substitute_dominant || function == F::backdoor ||
               function == F::predominant || function == F::passing_diminished;
    }

    const Chart& written_;
    const std::vector<Placement>& placements_;
    MadeChart made_;
    std::vector<int> first_, last_;  ///< per written spot: where it begins, and ends, in the made chart
};

/// Joins what a rule writes on a made chart with the placement that it was found on.
class Stacker {
public:
    Stacker(const Chart& written, const MadeChart& made, const Placement& base, const Candidate& candidate)
        : written_(written), made_(made), base_(base), candidate_(candidate) {}

    std::optional<Placement> run() {
        if (candidate_.keeps_left > 0 || candidate_.keeps_right > 0) return std::nullopt;
        result_.begin = std::min(base_.begin, made_.chart.at(candidate_.begin).written_first);
        result_.end = std::max(base_.end, made_.chart.at(candidate_.end - 1).written_last + 1);
        const auto start = written_.at(result_.begin).start;
        int first = candidate_.begin;
        while (in_span(first - 1)) --first;
        for (int i = first; i < candidate_.begin; ++i) result_.chords.push_back(old_chord(i, start));
        const auto before = result_.chords.size();
        for (const auto& chord : candidate_.chords) result_.chords.push_back(new_chord(chord, start));
        const auto after = result_.chords.size();
        for (int i = candidate_.end; in_span(i); ++i) result_.chords.push_back(old_chord(i, start));
        tell_derivation(before, after);
        if (!take_needs(before, after)) return std::nullopt;
        return std::move(result_);
    }

private:
    /// The rule's own chords lie in [before, after).
    void tell_derivation(std::size_t before, std::size_t after) {
        result_.derivation = base_.derivation;
        const auto& owner = made_.placement_of;
        const auto is_base = [](int placement) { return placement >= 0; };
        const auto first =
            static_cast<int>(std::find_if(owner.begin(), owner.end(), is_base) - owner.begin());
        const auto last =
            static_cast<int>(owner.rend() - std::find_if(owner.rbegin(), owner.rend(), is_base));
        for (auto& one : result_.derivation) {
            if (!one.previous && in_span(first - 1)) one.previous = made_.chart.at(first - 1).chord;
            if (!one.next && in_span(last)) one.next = made_.chart.at(last).chord;
        }
        result_.derivation.push_back(applied(made_.chart, candidate_));
        auto& newest = result_.derivation.back();
        if (before > 0) newest.previous = result_.chords[before - 1].chord;
        if (after < result_.chords.size()) newest.next = result_.chords[after].chord;
    }
    bool in_span(int i) const {
        if (i < 0 || i >= made_.chart.size()) return false;
        const auto& spot = made_.chart.at(i);
        return spot.ref.section == written_.at(result_.begin).ref.section &&
               spot.start >= written_.at(result_.begin).start &&
               spot.start < written_.at(result_.end - 1).end();
    }
    NewChord old_chord(int i, Time start) const {
        const auto& spot = made_.chart.at(i);
        const auto offset = written_.at(base_.begin).start - start;
        if (made_.placement_of[static_cast<std::size_t>(i)] >= 0) {
            for (auto chord : base_.chords) {
                chord.at += offset;
                if (chord.at == spot.start - start) return chord;
            }
        }
        return kept(written_, spot.written_first, spot.start - start, candidate_.rule);
    }
    NewChord new_chord(NewChord chord, Time start) const {
        chord.at += made_.chart.at(candidate_.begin).start - start;
        if (!chord.kept_from) return chord;
        const auto& spot = made_.chart.at(*chord.kept_from);
        chord.kept_from.reset();
        if (!spot.made) chord.kept_from = spot.written_first;
        return chord;
    }
    /// Needs that look out of the whole stay needs; those that look inside must be met there.
    bool take_needs(std::size_t before, std::size_t after) {
        if (base_.begin == result_.begin) result_.left = base_.left;
        if (base_.end == result_.end) result_.right = base_.right;
        if (before == 0) {
            result_.left.insert(result_.left.end(), candidate_.left.begin(), candidate_.left.end());
        } else if (!all_met(candidate_.left, result_.chords[before - 1].chord)) {
            return false;
        }
        if (after == result_.chords.size()) {
            result_.right.insert(result_.right.end(), candidate_.right.begin(), candidate_.right.end());
        } else if (!all_met(candidate_.right, result_.chords[after].chord)) {
            return false;
        }
        return (base_.begin == result_.begin || all_met(base_.left, written_.at(base_.begin - 1).chord)) &&
               (base_.end == result_.end || all_met(base_.right, written_.at(base_.end).chord));
    }

    const Chart& written_;
    const MadeChart& made_;
    const Placement& base_;
    const Candidate& candidate_;
    Placement result_;
};

}  // namespace

bool same_music(const Placement& a, const Placement& b) {
    return a.begin == b.begin && a.end == b.end &&
           std::equal(
               a.chords.begin(), a.chords.end(), b.chords.begin(), b.chords.end(),
               [](const NewChord& x, const NewChord& y) { return x.at == y.at && x.chord == y.chord; });
}

std::optional<Placement> place(const Chart& written, const Candidate& candidate) {
    Placement placement{
        candidate.begin, candidate.end, candidate.chords, {applied(written, candidate)}, {}, {}};
    if (candidate.keeps_left == 0) placement.left = candidate.left;
    if (candidate.keeps_right == 0) placement.right = candidate.right;
    auto& told = placement.derivation.front();
    if (candidate.keeps_left > 0 && candidate.begin > 0)
        told.previous = written.at(candidate.begin - 1).chord;
    if (candidate.keeps_right > 0 && candidate.end < written.size())
        told.next = written.at(candidate.end).chord;
    for (int k = 0; k < candidate.keeps_left; ++k) {
        const int i = placement.begin - 1;
        if (i < 0 || !written.joined(i)) return std::nullopt;
        for (auto& chord : placement.chords) chord.at += written.at(i).length;
        placement.chords.insert(placement.chords.begin(), kept(written, i, 0, candidate.rule));
        placement.begin = i;
    }
    for (int k = 0; k < candidate.keeps_right; ++k) {
        const int i = placement.end;
        if (!written.joined(i - 1)) return std::nullopt;
        const auto at = written.at(i).start - written.at(placement.begin).start;
        placement.chords.push_back(kept(written, i, at, candidate.rule));
        placement.end = i + 1;
    }
    if (candidate.keeps_left > 0 && !all_met(candidate.left, written.at(candidate.begin - 1).chord))
        return std::nullopt;
    if (candidate.keeps_right > 0 && !all_met(candidate.right, written.at(candidate.end).chord))
        return std::nullopt;
    return placement;
}

MadeChart chart_with(const Chart& written, const std::vector<Placement>& placements) {
    return ChartLayer(written, placements).run();
}

std::optional<Placement> stack(const Chart& written, const MadeChart& made, const Placement& base,
                               const Candidate& candidate) {
    return Stacker(written, made, base, candidate).run();
}

const Applied& Placement::leading() const {
    // A ii that became a dominant is another chord; a dominant with a suspension is not.
    const auto ground = [](const theory::Chord& chord) {
        const auto kind = theory::chord_class(chord);
        const bool leads = kind == theory::ChordClass::dominant || kind == theory::ChordClass::suspended;
        return std::tuple(theory::pitch_class(chord.root), theory::pitch_class(theory::bass_of(chord)),
                          leads);
    };
    const auto moves = [&](const Applied& step) {
        return std::any_of(step.new_chords.begin(), step.new_chords.end(), [&](const theory::Chord& now) {
            return std::none_of(step.old_chords.begin(), step.old_chords.end(),
                                [&](const theory::Chord& old) { return ground(old) == ground(now); });
        });
    };
    const auto last = std::find_if(derivation.rbegin(), derivation.rend(), moves);
    return last == derivation.rend() ? derivation.back() : *last;
}

}  // namespace relead::rules
