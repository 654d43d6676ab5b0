#include <algorithm>
#include <cmath>
#include <random>

#include "bench/trial.h"
#include "reharm/dose.h"
#include "reharm/kept_places.h"
#include "reharm/pair.h"
#include "reharm/plan_binding.h"
#include "reharm/pool.h"
#include "reharm/search.h"
#include "reharm/version_tune.h"
#include "rules/read_rules.h"

namespace relead::bench {
namespace {

/// Random sets of placements within all hard limits.
class RandomVersions {
public:
    RandomVersions(const reharm::Situation& situation, const reharm::Pool& pool, std::uint32_t seed)
        : situation_(situation), pool_(pool), random_(seed) {
        reharm::SoundGrid grid(situation.chart);
        for (const auto& judged : pool.placements) {
            int changed = 0;
            for (const auto& cell : grid.placed(judged.placement)) {
                if (cell.sound != grid.as_written()[static_cast<std::size_t>(cell.cell)])
                    changed += grid.plays(cell.cell);
            }
            changed_.push_back(static_cast<double>(changed) / std::max(1, grid.size()));
            // What no free choice may take is not legal here either.
            if (reharm::places_lost(situation.chart, judged.placement) == 0)
                order_.push_back(changed_.size() - 1);
        }
    }

    /// Placements that change about `dose` of the time; fewer when it cannot be had.
    std::vector<rules::Placement> draw(double dose) {
        constexpr double slack = 0.015;
        owner_.assign(static_cast<std::size_t>(situation_.chart.size()), nullptr);
        std::shuffle(order_.begin(), order_.end(), random_);
        double changed = 0;
        for (const auto i : order_) {
            if (changed >= dose - slack) break;
            const auto& placement = pool_.placements[i].placement;
            if (changed + changed_[i] > dose + slack || !fits(placement)) continue;
            changed += changed_[i];
            std::fill(owner_.begin() + placement.begin, owner_.begin() + placement.end, &placement);
        }
        std::vector<rules::Placement> chosen;
        for (int i = 0; i < situation_.chart.size(); ++i) {
            const auto* placement = owner_[static_cast<std::size_t>(i)];
            if (placement != nullptr && placement->begin == i) chosen.push_back(*placement);
        }
        return chosen;
    }

private:
    [[nodiscard]] reharm::End end_at(int spot, bool right_end) const {
        const auto* placement = owner_[static_cast<std::size_t>(spot)];
        if (placement == nullptr) return {&situation_.chart.at(spot).chord, nullptr};
        return {right_end ? &placement->chords.back().chord : &placement->chords.front().chord, placement};
    }
    [[nodiscard]] bool fits(const rules::Placement& placement) const {
        for (int i = placement.begin; i < placement.end; ++i) {
            if (owner_[static_cast<std::size_t>(i)] != nullptr) return false;
        }
        const reharm::End front{&placement.chords.front().chord, &placement};
        const reharm::End back{&placement.chords.back().chord, &placement};
        const auto meets = [&](const reharm::End& left, const reharm::End& right) {
            return !reharm::judge_pair(situation_.rules, left, right).refusal;
        };
        const auto& before = situation_.chart.at(placement.begin).previous;
        const auto& after = situation_.chart.at(placement.end - 1).next;
        return std::all_of(before.begin(), before.end(),
                           [&](int i) { return meets(end_at(i, true), front); }) &&
               std::all_of(after.begin(), after.end(), [&](int i) { return meets(back, end_at(i, false)); });
    }

    const reharm::Situation& situation_;
    const reharm::Pool& pool_;
    std::mt19937 random_;
    std::vector<double> changed_;
    std::vector<std::size_t> order_;
    std::vector<const rules::Placement*> owner_;
};

struct Score {
    double guides = 0;
    double outer = 0;
};

Score score_of(const Piece& piece, const analysis::Analysis& analysis, const rules::Chart& chart,
               const std::vector<rules::Placement>& placements) {
    const auto tune = reharm::lay_into_tune(piece.tune, chart, placements, reharm::Row::changes);
    const auto measures = measure(piece.tune, analysis, tune);
    // Smoothness of all guide tones, per move to another root.
    const double moves = std::max(1, measures.root_moves);
    return {-measures.semitones / moves, measures.outer.value()};
}

double half_for_ties(double mine, double other) {
    constexpr double same = 1e-9;
    return mine > other + same ? 1.0 : mine < other - same ? 0.0 : 0.5;
}

Control compare(const Score& mine, const std::vector<Score>& others) {
    Control control;
    // Both together: each in units of its own spread.
    const auto spread = [&](auto part) {
        double mean = 0, square = 0;
        for (const auto& other : others) mean += part(other) / static_cast<double>(others.size());
        for (const auto& other : others) square += (part(other) - mean) * (part(other) - mean);
        return std::sqrt(square / static_cast<double>(others.size())) + 1e-9;
    };
    const double guides = spread([](const Score& s) { return s.guides; });
    const double outer = spread([](const Score& s) { return s.outer; });
    const auto sum = [&](const Score& s) { return s.guides / guides + s.outer / outer; };
    for (const auto& other : others) {
        control.guides += half_for_ties(mine.guides, other.guides);
        control.outer += half_for_ties(mine.outer, other.outer);
        control.both += half_for_ties(sum(mine), sum(other));
    }
    control.compared = static_cast<int>(others.size());
    const double count = std::max(1, control.compared);
    control.guides /= count;
    control.outer /= count;
    control.both /= count;
    return control;
}

}  // namespace

std::vector<Control> hold_against_random(const Piece& piece, int outside, int count, std::uint32_t seed,
                                         Hearing hearing, int versions) {
    const auto analysis = analysis::analyse(piece.tune);
    const auto& rules = rules::built_in_rules();
    const auto chart = rules::make_chart(piece.tune, analysis);
    reharm::Wish wish;
    wish.outside = outside;
    const auto plan = reharm::bind_plan(piece.tune, rules, wish);
    const reharm::Situation situation{piece.tune, chart, rules, *plan.value};
    const auto pool = reharm::build_pool(situation, {});
    reharm::SearchWish search_wish;
    search_wish.versions = versions;
    if (hearing == Hearing::deaf)
        search_wish.left_out = {"arrival", "approach-skip", "approach-leap", "outer-voices"};
    const auto found = reharm::search(situation, pool, search_wish);
    RandomVersions random(situation, pool, seed);
    std::vector<Control> controls;
    for (const auto& version : found.versions) {
        std::vector<rules::Placement> placements;
        for (const auto& judged : version.placements) placements.push_back(judged.placement);
        if (placements.empty()) continue;
        const auto tune = reharm::lay_into_tune(piece.tune, chart, placements, reharm::Row::changes);
        const double dose = difference(play(piece.tune, piece.tune), play(piece.tune, tune));
        std::vector<Score> others;
        for (int i = 0; i < count; ++i) others.push_back(score_of(piece, analysis, chart, random.draw(dose)));
        controls.push_back(compare(score_of(piece, analysis, chart, placements), others));
    }
    return controls;
}

}  // namespace relead::bench
