// Versions of one idea each: a version takes its dose, or as many changes as the plan allows, keeps to one
// idea and sounds otherwise than those before it. Weights that serve these aims are added to the costs; of
// the cheapest paths under them the one that misses its aims least is taken, the smoothest of those that meet
// them; the best ones are bettered change by change, and in all rounds of a vamp or a sequence at once.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "base/acyclic_graph.h"
#include "reharm/choice_effects.h"
#include "reharm/exchange.h"
#include "reharm/ideas.h"
#include "reharm/misfit.h"
#include "reharm/round_moves.h"

namespace relead::reharm {

class FreeChoice {
public:
    /// All must outlive it.
    FreeChoice(const Situation& situation, const std::vector<Judged>& placements, const TuneLattice& lattice,
               const LatticeGraph& graph);
    /// It refers to itself.
    FreeChoice(const FreeChoice&) = delete;
    FreeChoice& operator=(const FreeChoice&) = delete;
    /// For measuring: see Misfit.
    void leave_out(const std::vector<std::string_view>& terms) { misfit_.leave_out(terms); }
    struct Candidate {
        GraphPath path;
        std::size_t idea = 0;
        double misfit = 0;  ///< points
        std::int64_t cost = 0;
        /// What the choice goes by: cost and misfit together; the less the better.
        [[nodiscard]] double price() const;
    };
    /// What so many points of misfit weigh in a price.
    [[nodiscard]] static double price_of_points(double points);
    /// What the next version may be, the best of each idea, the best first: none that an earlier one sounds
    /// like.
    [[nodiscard]] std::vector<Candidate> candidates() const;
    /// Written half beats of the tune.
    [[nodiscard]] int size() const { return effects_.grid().size(); }
    /// Later versions change more: not where the plan counts changes, which then are as many in each.
    [[nodiscard]] bool grows() const { return !situation_.plan.plan.at_most; }
    /// The price of a path if it were the next version.
    [[nodiscard]] double price_of(const Candidate& candidate) const;
    /// Makes it the next version.
    void take(const Candidate& candidate);
    /// Takes the latest version back; there must be one.
    void take_back();
    /// How much it has listened to so far, in half beats of all the versions that were measured: its work,
    /// for whoever wants to see it grow.
    [[nodiscard]] std::int64_t half_beats_measured() const { return heard_; }

private:
    /// What weighs besides the costs.
    struct Weights {
        int change = 0;  ///< per changed half beat
        int other = 0;   ///< per change of another idea
        int again = 0;   ///< per half beat that an earlier version changed in the same way
        std::vector<int> rules;
    };
    /// The misfit of a path if it were the next version.
    [[nodiscard]] Misfit::Measure measure(const GraphPath& path, std::size_t idea) const;
    [[nodiscard]] Misfit::Usual usual_count() const;
    [[nodiscard]] int fewest_lost() const;
    [[nodiscard]] bool is_used(std::size_t idea) const;
    [[nodiscard]] std::optional<Candidate> best_for(std::size_t idea, int tries) const;
    void try_weights(Weights& weights, std::size_t idea, std::optional<Candidate>& best) const;
    /// What bettering a version goes by, and how many more paths it may try.
    struct Trials {
        Surcharge extra;
        int left = 0;
    };
    [[nodiscard]] std::vector<int> labels_to_try(std::size_t idea) const;
    void polish(Candidate& candidate) const;
    bool change_rounds(Candidate& candidate, const std::vector<int>& labels, Trials& trials) const;
    bool change_one(Candidate& candidate, const std::vector<int>& labels, Trials& trials) const;
    bool change_two(Candidate& candidate, const std::vector<int>& labels, Trials& trials) const;
    bool take_if_better(std::optional<GraphPath> path, Candidate& candidate, Trials& trials) const;
    [[nodiscard]] bool is_change(std::size_t arc) const;
    [[nodiscard]] bool has_room(std::size_t idea) const;
    [[nodiscard]] int weight_for(Weights weights, std::size_t idea) const;
    [[nodiscard]] Surcharge surcharge(const Weights& weights, std::size_t idea) const;
    [[nodiscard]] std::int64_t extra_cost(const Effect& effect, const Weights& weights,
                                          std::size_t idea) const;
    [[nodiscard]] Surcharge plain_surcharge(std::size_t idea) const;
    [[nodiscard]] std::int64_t plain_cost(const GraphPath& path, const Surcharge& extra) const;
    /// The idea `number`; after those of the table one that takes every rule.
    [[nodiscard]] const Idea& idea(std::size_t number) const {
        return number < ideas_.size() ? ideas_[number] : any_;
    }

    const Situation& situation_;
    const LatticeGraph& graph_;
    ChoiceEffects effects_;
    Exchange exchange_;
    std::vector<Idea> ideas_;
    Idea any_;
    std::vector<std::size_t> used_;  ///< ideas of the versions taken
    Misfit misfit_;
    RoundMoves round_moves_;
    int most_lost_;  ///< kept places that a version may lose
    mutable std::int64_t heard_ = 0;
};

}  // namespace relead::reharm
