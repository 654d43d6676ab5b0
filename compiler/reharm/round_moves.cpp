#include "reharm/round_moves.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace relead::reharm {
namespace {

/// A chord of a change: when and how long, its root and bass seen from the round, its class.
using Written = std::tuple<Time, Time, int, int, theory::ChordClass>;
/// Spots from the start of the round, spots covered, rule, chords.
using Key = std::tuple<int, int, std::size_t, std::vector<Written>>;

Key key_of(const Effect& effect, const rules::Rounds& run, int round) {
    constexpr int octave = 12;
    const auto& placement = effect.judged->placement;
    const auto seen = [&](theory::NoteName name) {
        return (theory::pitch_class(name) - run.moved(round) + octave) % octave;
    };
    std::vector<Written> chords;
    for (const auto& one : placement.chords) {
        const auto& chord = one.chord;
        chords.emplace_back(one.at, one.length, seen(chord.root), seen(theory::bass_of(chord)),
                            theory::chord_class(chord));
    }
    return {placement.begin - run.begin(round), placement.end - placement.begin, effect.rule(),
            std::move(chords)};
}

}  // namespace

RoundMoves::RoundMoves(const ChoiceEffects& effects, const Evenness& evenness)
    : evenness_(evenness), groups_(evenness.runs().size()), places_(effects.effects().size()) {
    std::vector<std::map<Key, int>> known(groups_.size());
    for (std::size_t label = 0; label < places_.size(); ++label) {
        const auto& effect = effects.effects()[label];
        if (effect.judged == nullptr) continue;
        const auto spot = evenness.at(effect.judged->placement.begin);
        if (spot.run < 0) continue;
        const auto& run = rounds(spot.run);
        auto& groups = groups_[static_cast<std::size_t>(spot.run)];
        const auto [at, fresh] = known[static_cast<std::size_t>(spot.run)].emplace(
            key_of(effect, run, spot.round), static_cast<int>(groups.size()));
        if (fresh) groups.emplace_back(static_cast<std::size_t>(run.size()), -1);
        auto& here = groups[static_cast<std::size_t>(at->second)][static_cast<std::size_t>(spot.round)];
        // Of several colours of it the first, which is the cheapest by itself.
        if (here < 0) here = static_cast<int>(label);
        places_[label] = {spot.run, at->second, spot.round};
    }
}

std::vector<Exchange::Joint> RoundMoves::of(const std::vector<std::size_t>& changes,
                                            const std::vector<int>& labels) const {
    std::vector<Exchange::Joint> joints;
    for (auto& [run, treatments] : treatments_of(changes)) add_treatments(run, std::move(treatments), joints);
    std::set<std::pair<int, int>> tried;
    for (const int label : labels) {
        const auto& place = places_[static_cast<std::size_t>(label)];
        if (place.run >= 0 && tried.emplace(place.run, place.group).second)
            add_group(place.run, place.group, joints);
    }
    return joints;
}

std::map<int, RoundMoves::Treatments> RoundMoves::treatments_of(
    const std::vector<std::size_t>& changes) const {
    std::map<int, Treatments> of_run;
    for (const auto change : changes) {
        const auto& place = places_[change];
        if (place.run < 0 || !evenness_.is_free(place.run, place.round)) continue;
        auto& treatments = of_run[place.run];
        treatments.resize(static_cast<std::size_t>(rounds(place.run).size()));
        treatments[static_cast<std::size_t>(place.round)].push_back(place.group);
    }
    return of_run;
}

/// In all rounds, in all but the last, and in every second one.
void RoundMoves::add_group(int run, int group, std::vector<Exchange::Joint>& joints) const {
    const int all = rounds(run).size();
    for (const auto& which : {Which{0, all, 1}, Which{0, all - 1, 1}, Which{0, all, 2}, Which{1, all, 2}}) {
        auto joint = putting(run, {group}, which);
        if (joint.put.size() > 1) joints.push_back(std::move(joint));
    }
}

/// What each round has, and nothing, in all rounds and in all but the last.
void RoundMoves::add_treatments(int run, Treatments treatments, std::vector<Exchange::Joint>& joints) const {
    std::set<std::vector<int>> different{{}};
    for (auto& one : treatments) {
        std::sort(one.begin(), one.end());
        different.insert(std::move(one));
    }
    const int all = rounds(run).size();
    for (const auto& treatment : different) {
        for (const int end : {all, all - 1}) {
            auto joint = putting(run, treatment, {0, end, 1});
            for (int round = 0; round < end; ++round) {
                if (evenness_.is_free(run, round))
                    joint.clear.push_back({rounds(run).begin(round), rounds(run).end(round)});
            }
            joints.push_back(std::move(joint));
        }
    }
}

/// The changes of these groups in some rounds, as far as they are there.
Exchange::Joint RoundMoves::putting(int run, const std::vector<int>& groups, const Which& which) const {
    Exchange::Joint joint;
    for (int round = which.first; round < which.end; round += which.step) {
        if (!evenness_.is_free(run, round)) continue;
        for (const int group : groups) {
            const auto& of_round = groups_[static_cast<std::size_t>(run)][static_cast<std::size_t>(group)];
            const int label = of_round[static_cast<std::size_t>(round)];
            if (label >= 0) joint.put.push_back(label);
        }
    }
    return joint;
}

}  // namespace relead::reharm
