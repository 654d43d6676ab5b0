// Joint moves for the rounds of a vamp or a sequence: the same change in all of them at once, or what one of
// them has in all. One change after the other never gets there, since each of them alone leaves a stray
// round.
#pragma once

#include <map>
#include <utility>
#include <vector>

#include "reharm/choice_effects.h"
#include "reharm/evenness.h"
#include "reharm/exchange.h"

namespace relead::reharm {

class RoundMoves {
public:
    /// `evenness` must outlive it.
    RoundMoves(const ChoiceEffects& effects, const Evenness& evenness);
    /// What may make a version evener that has these `changes`: each of `labels` with those that correspond
    /// to it, and the changes of each round, or none, in all rounds.
    [[nodiscard]] std::vector<Exchange::Joint> of(const std::vector<std::size_t>& changes,
                                                  const std::vector<int>& labels) const;

private:
    /// Labels that correspond: one per round, -1 where there is none. They begin at the same place of their
    /// round, cover as much of it and have the same chords, moved like the round, from the same rule.
    using Group = std::vector<int>;
    struct Place {
        int run = -1;  ///< -1 = begins in no round
        int group = 0;
        int round = 0;
    };
    /// Per round of a run: the groups of its changes.
    using Treatments = std::vector<std::vector<int>>;
    [[nodiscard]] std::map<int, Treatments> treatments_of(const std::vector<std::size_t>& changes) const;
    void add_group(int run, int group, std::vector<Exchange::Joint>& joints) const;
    void add_treatments(int run, Treatments treatments, std::vector<Exchange::Joint>& joints) const;
    /// Every how many rounds, from which one, up to which one.
    struct Which {
        int first = 0, end = 0, step = 1;
    };
    [[nodiscard]] Exchange::Joint putting(int run, const std::vector<int>& groups, const Which& which) const;
    [[nodiscard]] const rules::Rounds& rounds(int run) const {
        return evenness_.runs()[static_cast<std::size_t>(run)];
    }

    const Evenness& evenness_;
    std::vector<std::vector<Group>> groups_;  ///< per run
    std::vector<Place> places_;               ///< per label
};

}  // namespace relead::reharm
