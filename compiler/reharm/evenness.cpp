#include "reharm/evenness.h"

#include <algorithm>
#include <map>

#include "reharm/plan_refusals.h"

namespace relead::reharm {
namespace {

constexpr int octave = 12;

/// Rounds that must be treated alike have the same group.
template <class Group>
bool even_in(const std::vector<int>& treatments, int rounds, Group group) {
    std::map<int, int> treatment_of;
    for (int round = 0; round < rounds; ++round) {
        const int treatment = treatments[static_cast<std::size_t>(round)];
        if (treatment == any_treatment) continue;
        if (treatment_of.emplace(group(round), treatment).first->second != treatment) return false;
    }
    return true;
}

/// Whether the first rounds are treated alike, or in turns; two turns need so many rounds.
bool even_up_to(const std::vector<int>& treatments, int rounds, int turns_from) {
    constexpr int twice_two = 4, twice_four = 8;
    if (even_in(treatments, rounds, [](int) { return 0; })) return true;
    if (rounds >= turns_from && even_in(treatments, rounds, [](int round) { return round % 2; })) return true;
    if (rounds >= twice_two && even_in(treatments, rounds, [](int round) { return round / 2; })) return true;
    return rounds >= twice_four && even_in(treatments, rounds, [](int round) { return round % 4; });
}

bool is_held(const Situation& situation, int spot) {
    const auto& plan = situation.plan;
    const auto& written = situation.chart.at(spot);
    if (written.locked || (written.soloist_written && plan.audience == rules::Audience::soloist)) return true;
    const auto here = [&](const tune::Address& place) { return covers(situation, place, spot); };
    return std::any_of(plan.plan.hold.begin(), plan.plan.hold.end(), here) ||
           std::any_of(plan.never.begin(), plan.never.end(),
                       [&](const BoundPlan::Never& never) { return never.rules.empty() && here(never.at); });
}

}  // namespace

int stray_rounds(const std::vector<int>& treatments, bool sequence) {
    const auto rounds = static_cast<int>(treatments.size());
    constexpr int each_twice = 4;
    if (even_up_to(treatments, rounds, sequence && rounds == 3 ? 3 : each_twice)) return 0;
    if (even_up_to(treatments, rounds - 1, each_twice)) return 0;
    std::map<int, int> times;
    int all = 0, most = 0;
    for (const int treatment : treatments) {
        if (treatment == any_treatment) continue;
        ++all;
        most = std::max(most, ++times[treatment]);
    }
    return all - most;
}

Evenness::Evenness(const Situation& situation, const SoundGrid& grid)
    : grid_(grid),
      runs_(rules::find_rounds(situation.chart)),
      at_(static_cast<std::size_t>(situation.chart.size())) {
    for (int sound = 0; sound < grid_.sounds(); ++sound) {
        const auto& chord = grid_.chord(sound);
        tones_.push_back({theory::pitch_class(chord.root), theory::pitch_class(theory::bass_of(chord)),
                          theory::chord_class(chord)});
    }
    for (const auto& run : runs_) {
        const auto number = static_cast<int>(free_.size());
        std::vector<bool> free;
        for (int round = 0; round < run.size(); ++round) {
            bool open = true;
            for (int spot = run.begin(round); spot < run.end(round); ++spot) {
                at_[static_cast<std::size_t>(spot)] = {number, round};
                open = open && !is_held(situation, spot);
            }
            free.push_back(open);
        }
        free_.push_back(std::move(free));
    }
}

Evenness::Evenness(const Situation& situation, const ChoiceEffects& effects)
    : Evenness(situation, effects.grid()) {
    for (const auto& effect : effects.effects()) {
        if (effect.taken) settle(effect.judged->placement);
    }
}

/// What the plan takes stays, whatever the other rounds have.
void Evenness::settle(const rules::Placement& placement) {
    for (int spot = placement.begin; spot < placement.end; ++spot) {
        const auto here = at(spot);
        if (here.run >= 0)
            free_[static_cast<std::size_t>(here.run)][static_cast<std::size_t>(here.round)] = false;
    }
}

/// `b` lies so many semitones above `a` and is the same else.
bool Evenness::same(int a, int b, int up) const {
    const auto &here = tones_[static_cast<std::size_t>(a)], &there = tones_[static_cast<std::size_t>(b)];
    if (here.kind != there.kind) return false;
    if (here.kind == theory::ChordClass::none) return true;
    return (here.root + up) % octave == there.root && (here.bass + up) % octave == there.bass;
}

bool Evenness::alike(const std::vector<int>& sound, const rules::Rounds& run, int a, int b) const {
    const int up = (run.moved(b) - run.moved(a) + octave) % octave;
    const int from = grid_.first_cell(run.begin(a)), to = grid_.first_cell(run.begin(b));
    const auto& written = grid_.as_written();
    for (int i = 0; i < grid_.first_cell(run.end(a)) - from; ++i) {
        const auto here = static_cast<std::size_t>(from + i), there = static_cast<std::size_t>(to + i);
        const bool both = (sound[here] == written[here]) == (sound[there] == written[there]);
        if (!both || !same(sound[here], sound[there], up)) return false;
    }
    return true;
}

int Evenness::strays(const std::vector<int>& sound) const {
    int sum = 0;
    for (std::size_t r = 0; r < runs_.size(); ++r) {
        const auto& run = runs_[r];
        std::vector<int> treatments, firsts;  // the first round of each treatment
        for (int round = 0; round < run.size(); ++round) {
            if (!free_[r][static_cast<std::size_t>(round)]) {
                treatments.push_back(any_treatment);
                continue;
            }
            const auto known = std::find_if(firsts.begin(), firsts.end(),
                                            [&](int first) { return alike(sound, run, first, round); });
            treatments.push_back(static_cast<int>(known - firsts.begin()));
            if (known == firsts.end()) firsts.push_back(round);
        }
        sum += stray_rounds(treatments, run.interval != 0);
    }
    return sum;
}

}  // namespace relead::reharm
