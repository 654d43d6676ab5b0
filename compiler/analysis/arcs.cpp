#include "analysis/arcs.h"

#include <algorithm>
#include <cmath>

#include "analysis/relations.h"

namespace relead::analysis {
namespace {

constexpr int scale = Arcs::scale;

int doublings(double bars) {
    return static_cast<int>(std::lround(scale * std::log2(1 + std::max(0.0, bars))));
}

std::size_t at(int index) {
    return static_cast<std::size_t>(index);
}

template <class Kind>
std::size_t as_index(Kind kind) {
    return static_cast<std::size_t>(kind);
}

/// A half step down that no dominant waits for at its end.
bool is_half_step_down(const Step& step) {
    return step_name(step) == "half step down" || step_name(step) == "substitute to its goal";
}

/// 0 below an eight-bar boundary, 1 for one, 2 for a sixteen-bar boundary.
std::size_t section_strength(int level) {
    return level >= 5 ? 2 : level >= 4 ? 1 : 0;
}

/// 0 within the same four bars, 1 within the same eight, 2 further.
std::size_t form_distance(const Heard& a, const Heard& b) {
    return a.phrase == b.phrase ? 0 : a.period == b.period ? 1 : 2;
}

}  // namespace

Arcs::Arcs(const std::vector<TreeChord>& chords, const Heard& top, const TreeWeights& weights)
    : chords_(chords), top_(top), w_(weights), places_(chords.size()) {
    find_runs();
    find_lengths();
    for (std::size_t i = 0; i < chords.size(); ++i) {
        auto& place = places_[i];
        const auto& chord = chords[i];
        const bool dominant = is_dominant_like(chord.heard->sound);
        place.on_place = chord.on_tonic ? Goal::tonic : dominant ? Goal::dominant : Goal::other;
        place.afar = chord.role == Role::tonic ? Goal::tonic : dominant ? Goal::dominant : Goal::other;
        if (i + 1 == chords.size()) continue;
        place.resolves = step_between(*chord.heard, *chords[i + 1].heard).resolves;
        place.neighbour = is_neighbour(i);
        place.in_line = falls(i) && ((i > 0 && falls(i - 1)) || (i + 2 < chords.size() && falls(i + 1)));
    }
}

bool Arcs::falls(std::size_t i) const {
    return semitones_up(*chords_[i].heard, *chords_[i + 1].heard) == 11;
}

/// I IV I within four bars.
bool Arcs::is_neighbour(std::size_t i) const {
    if (i == 0 || i + 1 >= chords_.size() || !chords_[i].run_begins || !chords_[i].run_ends) return false;
    const auto& before = chords_[i - 1];
    const auto& after = chords_[i + 1];
    return after.role == Role::tonic && same_chord(*before.heard, *after.heard) &&
           before.heard->phrase == after.heard->phrase;
}

/// Runs of one chord; within a run the parts that belong to one group of eight bars.
void Arcs::find_runs() {
    std::size_t part = 0;
    int run = 0;
    for (std::size_t i = 0; i < chords_.size(); ++i) {
        if (i > 0 && chords_[i].run_begins) ++run;
        places_[i].run = run;
        const bool part_ends =
            chords_[i].run_ends || i + 1 == chords_.size() || chords_[i + 1].heard->level >= 4;
        places_[i].last_here = part_ends;
        if (!part_ends) continue;
        find_stands(part, i + 1);
        part = i + 1;
    }
}

void Arcs::find_stands(std::size_t begin, std::size_t end) {
    const auto& first = *chords_[begin].heard;
    const auto& last = chords_[end - 1];
    const bool opens = begin == 0 || first.level >= 4;
    const bool to_the_end = end == chords_.size() || chords_[end].heard->level >= 4;
    const bool late = first.in_period >= 6;
    const bool fills = last.heard->start + last.length - first.start >= 8;
    const int stand = opens ? (fills ? 2 : 0) : late || to_the_end ? 2 : 1;
    for (std::size_t i = begin; i < end; ++i) places_[i].stand = stand;
}

void Arcs::find_lengths() {
    for (std::size_t begin = 0, end = 0; begin < chords_.size(); begin = end) {
        end = begin + 1;
        while (end < chords_.size() && places_[end].run == places_[begin].run) ++end;
        const auto& last = chords_[end - 1];
        const double bars = last.heard->start + last.length - chords_[begin].heard->start;
        const int lasts = bars < 1 ? 0 : bars < 2 ? 1 : bars < 4 ? 2 : 3;
        for (std::size_t i = begin; i < end; ++i) places_[i].lasts = lasts;
    }
}

int Arcs::relation(int row) const {
    return row < 0 ? w_.relation.back() : w_.relation[at(row)];
}

int Arcs::same_chord_again(int j, int k, int gap, bool run) const {
    const bool next = k == j + 1;
    int sum = scale * w_.repeats[as_index(chords_[at(j)].role)] + w_.repeats_gap * gap;
    if (next) sum += scale * w_.repeats_next;
    if (run) {
        const int level = chords_[at(k)].heard->level;
        sum += scale * w_.run[next ? 0 : 1][level >= 3 ? 2 : level == 2 ? 1 : 0];
    }
    return sum;
}

int Arcs::leaves(int j, bool next) const {
    const auto& from = places_[at(j)];
    return w_.leaves[at(from.stand)][next ? 0 : 1] + w_.lasts[at(from.lasts)][next ? 0 : 1];
}

int Arcs::at_once(int j, bool falls_by_half_step, bool same) const {
    if (same || !falls_by_half_step) return 0;
    return scale * (w_.down_next + (places_[at(j)].in_line ? w_.down_line : 0));
}

int Arcs::from_afar(int j, int k, int crossed, bool same, bool run) const {
    const auto& a = *chords_[at(j)].heard;
    const auto& b = chords_[at(k)];
    const auto& to = places_[at(k)];
    int sum = 0;
    if (places_[at(j)].resolves) sum += w_.passes_resolution;
    if (!b.run_ends) sum += w_.into_run;
    if (!same && !b.run_begins) sum += w_.late_in_run;
    sum += w_.afar[run || to.last_here ? 0 : 1];
    sum += std::max(1, crossed - 4) * w_.crosses[section_strength(crossed)][as_index(to.afar)];
    sum += w_.phrase[form_distance(a, *b.heard)][as_index(to.afar)];
    return scale * sum;
}

int Arcs::cross(int crossed, int level) {
    return level >= 5 ? std::max(crossed, 4) + 1 : std::max(crossed, level);
}

int Arcs::between(int j, int k, int crossed) const {
    const auto& a = chords_[at(j)];
    const auto& b = chords_[at(k)];
    const auto step = step_between(*a.heard, *b.heard);
    const bool next = k == j + 1;
    const bool run = places_[at(j)].run == places_[at(k)].run;
    const int gap = doublings(b.heard->start - a.heard->start - a.length);
    int sum = scale * relation(step.row);
    if (step.same) {
        sum += same_chord_again(j, k, gap, run);
    } else {
        sum += (step.resolves ? w_.gap_expected : w_.gap_other) * gap;
        if (next) sum += scale * (step.resolves ? w_.next_expected : w_.next_other);
        if (next && places_[at(j)].neighbour && !step.resolves) sum += scale * w_.neighbour;
        if (b.role == Role::tonic) sum += scale * w_.to_tonic[next ? 0 : 1][step.resolves ? 0 : 1];
        if (a.role == Role::tonic) sum += scale * leaves(j, next);
    }
    sum += scale * w_.roles[as_index(a.role)][as_index(b.role)];
    sum += scale * w_.place[at(std::min(b.heard->level, 5))][as_index(places_[at(k)].on_place)];
    if (next) return sum + at_once(j, is_half_step_down(step), step.same);
    return sum + from_afar(j, k, crossed, step.same, run);
}

int Arcs::to_end(int j) const {
    const auto& a = chords_[at(j)];
    const auto step = step_between(*a.heard, top_);
    int sum = scale * (step.resolves ? w_.end_expected : w_.end_step);
    if (a.role == Role::tonic) {
        sum += scale * w_.end_tonic;
    } else if (a.role == Role::dominant) {
        sum += scale * w_.end_home_dominant;
    } else {
        sum += scale * (is_dominant_like(a.heard->sound) ? w_.end_dominant : w_.end_other);
    }
    if (!step.same) sum += scale / 2 * relation(step.row);
    if (places_[at(j)].resolves) sum += scale * w_.passes_resolution;
    return sum;
}

}  // namespace relead::analysis
