// How far a version stays from its aims (grammar/aims.txt): its dose and its growth, its distance from the
// versions before it and changes of its own, enough changes, one rule not too often, one idea that none
// before it states, smooth inner and outer voices, rounds of a vamp or a sequence treated alike.
#pragma once

#include <string_view>
#include <vector>

#include "base/acyclic_graph.h"
#include "reharm/choice_effects.h"
#include "reharm/chorus_flow.h"
#include "reharm/evenness.h"
#include "reharm/ideas.h"

namespace relead::reharm {

class Misfit {
public:
    /// What the cheapest choice of a plan that counts changes comes to.
    struct Usual {
        int touched = 0;  ///< written chords, as the plan counts
        int changes = 0;  ///< but those that the plan takes
    };
    /// All must outlive it; `ideas` are those of the table.
    Misfit(const Situation& situation, const ChoiceEffects& effects, const std::vector<Idea>& ideas,
           Usual usual);
    /// For measuring: aims of guide tones or of outer voices do not count when their terms are left out
    /// ("approach-skip", "outer-voices").
    void leave_out(const std::vector<std::string_view>& terms);

    struct Measure {
        double points = 0;  ///< the less the better; some are left where all aims are met (see aims.txt)
        int often = -1;     ///< a rule that is used too often; -1 = none
    };
    /// Of a path that was looked for under `idea`.
    [[nodiscard]] Measure of(const GraphPath& path, const Idea& idea) const;
    /// The most half beats that the version looked for may change.
    [[nodiscard]] int most_changed() const;
    /// True when an earlier version, or after the first one the written chart, sounds the same or nearly so,
    /// or when it is an earlier one but for a single change or for less.
    [[nodiscard]] bool heard_before(const GraphPath& path) const;
    /// Makes a path the latest of the earlier versions.
    void remember(const GraphPath& path);
    /// Takes the latest of the earlier versions back; there must be one.
    void forget();
    [[nodiscard]] const Evenness& evenness() const { return evenness_; }
    /// What sounds in the earlier versions.
    [[nodiscard]] const std::vector<std::vector<int>>& earlier() const { return earlier_; }

private:
    [[nodiscard]] double dose_points(const GraphPath& path) const;
    [[nodiscard]] double growth_points(double dose) const;
    [[nodiscard]] double distance_points(const std::vector<int>& sound) const;
    [[nodiscard]] int known_before(const Effect& effect) const;
    [[nodiscard]] double own_points(const GraphPath& path) const;
    [[nodiscard]] double flow_points(const Flow& flow) const;
    [[nodiscard]] double rough_points(const Flow& flow) const;
    [[nodiscard]] double idea_points(const std::vector<int>& uses) const;
    /// True when a version is an earlier one without some of its changes, with a single one
    /// more, or with a single one that is new beside two and more of it.
    [[nodiscard]] bool follows_from(const GraphPath& path, const std::vector<int>& sound,
                                    const std::vector<int>& before) const;
    [[nodiscard]] double level_points(const GraphPath& path) const;
    [[nodiscard]] double few_points(const std::vector<int>& uses) const;

    const Situation& situation_;
    const ChoiceEffects& effects_;
    const std::vector<Idea>& ideas_;
    std::vector<std::size_t> stated_;        ///< ideas that earlier versions state; their number for none
    std::vector<std::vector<int>> earlier_;  ///< their sounds
    bool several_rules_;                     ///< the tune has room for more than one
    Usual usual_;
    Dose dose_;
    ChorusFlow flow_;
    Evenness evenness_;
    bool hears_guides_ = true, hears_outer_ = true;
};

}  // namespace relead::reharm
