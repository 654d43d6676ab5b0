#include "reharm/misfit.h"

#include <algorithm>
#include <cstdlib>
#include <numeric>

#include "reharm/aims.h"

namespace relead::reharm {
namespace {

/// Points for a share that is beyond what it may be by `percent`.
double uneven(double percent) {
    return aim("uneven") + aim("uneven-percent") / 100.0 * percent;
}

/// Points for an aim that is missed by `percent`.
double missed(double percent, int hundredths) {
    return percent > 0 ? aim("missed") + percent * hundredths / 100.0 : 0;
}

double percent_of(double part, double whole) {
    return 100 * part / whole;
}

/// One rule does not make too many of the changes where there are others, the idea's rules make enough.
Misfit::Measure rule_measure(const std::vector<int>& uses, const Idea& idea, bool others) {
    Misfit::Measure measure;
    const int all = std::accumulate(uses.begin(), uses.end(), 0);
    if (all == 0) return measure;
    const auto most = std::max_element(uses.begin(), uses.end());
    // Of two changes each is a half.
    constexpr int few = 2;
    if (const double over = percent_of(*most, all) - aim("one-rule"); others && all > few && over > 0) {
        measure.often = static_cast<int>(most - uses.begin());
        measure.points += uneven(over);
    }
    if (const double under = aim("one-idea") - percent_of(serving(idea, uses), all); under > 0)
        measure.points += uneven(under);
    return measure;
}

int heard_bass(const theory::Chord& chord) {
    return theory::pitch_class(theory::bass_of(chord));
}

/// The same root over the same bass: another colour on it does not make another change.
bool alike(const theory::Chord& a, const theory::Chord& b) {
    return theory::pitch_class(a.root) == theory::pitch_class(b.root) && heard_bass(a) == heard_bass(b);
}

bool has_several_rules(const ChoiceEffects& effects) {
    const Effect* first = nullptr;
    for (const auto& effect : effects.effects()) {
        if (effect.judged == nullptr) continue;
        if (first == nullptr) first = &effect;
        if (effect.rule() != first->rule()) return true;
    }
    return false;
}

}  // namespace

Misfit::Misfit(const Situation& situation, const ChoiceEffects& effects, const std::vector<Idea>& ideas,
               Usual usual)
    : situation_(situation),
      effects_(effects),
      ideas_(ideas),
      several_rules_(has_several_rules(effects)),
      usual_(usual),
      dose_(dose_of(0, situation.chart)),
      flow_(situation, effects.grid()),
      evenness_(situation, effects) {}

void Misfit::leave_out(const std::vector<std::string_view>& terms) {
    const auto counts = [&](std::string_view term) {
        return std::find(terms.begin(), terms.end(), term) == terms.end();
    };
    hears_guides_ = counts("approach-skip");
    hears_outer_ = counts("outer-voices");
}

int Misfit::most_changed() const {
    return effects_.grid().size() * dose_.most / 100;
}

/// Where the plan counts changes it says how many are too many; too few are told by the cheapest choice.
double Misfit::dose_points(const GraphPath& path) const {
    if (situation_.plan.plan.at_most) {
        const double fewer = percent_of(usual_.touched - effects_.touched(path), std::max(1, usual_.touched));
        return std::max(0.0, fewer) * aim("count-percent") / 100.0;
    }
    const double dose = percent_of(effects_.changed(path), std::max(1, effects_.grid().size()));
    const double off = std::max({0.0, dose_.least - dose, dose - dose_.most});
    return missed(off, aim("dose-percent")) + growth_points(dose);
}

/// Each version changes as much as the one before it or more.
double Misfit::growth_points(double dose) const {
    if (earlier_.empty()) return 0;
    const int before = effects_.differing(earlier_.back(), effects_.grid().as_written());
    return missed(percent_of(before, std::max(1, effects_.grid().size())) - dose, aim("growth-percent"));
}

double Misfit::distance_points(const std::vector<int>& sound) const {
    const double apart = apart_of(situation_.chart);
    double sum = 0;
    for (const auto& before : earlier_) {
        const int differing = effects_.differing(sound, before);
        sum +=
            missed(apart - percent_of(differing, std::max(1, effects_.grid().size())), aim("apart-percent"));
    }
    return sum;
}

/// Earlier versions that have the same there for half of its time or more.
int Misfit::known_before(const Effect& effect) const {
    const auto& grid = effects_.grid();
    const auto has_it = [&](const auto& before) {
        int changed = 0, known = 0;
        for (const auto& cell : effect.cells) {
            const auto at = static_cast<std::size_t>(cell.cell);
            const int written = grid.as_written()[at];
            if (cell.sound == written) continue;
            ++changed;
            known += before[at] != written && alike(grid.chord(before[at]), grid.chord(cell.sound)) ? 1 : 0;
        }
        return changed > 0 && known * 2 >= changed;
    };
    return static_cast<int>(std::count_if(earlier_.begin(), earlier_.end(), has_it));
}

/// Most changes of a version are not those of an earlier one, and none is in two of them.
double Misfit::own_points(const GraphPath& path) const {
    int all = 0, known = 0, again = 0;
    for (const auto label : effects_.changes_of(path)) {
        const auto& effect = effects_.effects()[label];
        if (effect.taken) continue;
        ++all;
        const int before = known_before(effect);
        known += before > 0 ? 1 : 0;
        again += before > 1 ? 1 : 0;
    }
    if (all == 0) return 0;
    const double nothing = known == all ? aim("nothing-own") : 0;
    return nothing + aim("again") * again +
           missed(aim("own-changes") - percent_of(all - known, all), aim("own-percent"));
}

/// Shares of the whole version, in percent below what is asked.
double Misfit::flow_points(const Flow& flow) const {
    const auto below = [](const Tally& tally, double wanted) {
        return missed(wanted - tally.percent(), 100);
    };
    double points = below(flow.roots, aim("smooth-roots")) +
                    missed(aim("short-symbols") - flow.symbols.percent(), aim("long-percent"));
    if (hears_guides_) points += below(flow.joints, aim("smooth-joints"));
    if (!hears_outer_) return points;
    const auto& written = flow_.as_written();
    const double asked = std::min<double>(aim("outer-apart"), written.outer.percent());
    points += missed(asked + aim("outer-spare") - flow.outer.percent(), aim("outer-percent"));
    return points + aim("in-a-row") * std::max(0, flow.parallels - written.parallels);
}

/// Shares that are met may be smoother still.
double Misfit::rough_points(const Flow& flow) const {
    const auto rough = [](const Tally& tally, int hundredths) {
        return (100 - tally.percent()) * hundredths / 100.0;
    };
    double points = rough(flow.roots, aim("roots-far"));
    if (hears_guides_)
        points += rough(flow.joints, aim("joints-far")) +
                  aim("guides-far") * static_cast<double>(flow.semitones) / std::max(1, flow.root_moves);
    if (hears_outer_) points += rough(flow.outer, aim("outer-along"));
    return points;
}

/// A version says one thing, and another one than those before it.
double Misfit::idea_points(const std::vector<int>& uses) const {
    const int changes = std::accumulate(uses.begin(), uses.end(), 0);
    if (changes == 0) return aim("unchanged");
    const auto lead = leading_idea(ideas_, uses, stated_);
    const bool counted = situation_.plan.plan.at_most.has_value();
    const bool room_for_more = !counted || usual_.changes > 1;
    if ((changes == 1 && room_for_more) || lead.stands_alone()) return aim("two-ideas");
    if (!lead.stated()) return aim("no-idea");
    return std::find(stated_.begin(), stated_.end(), lead.idea) == stated_.end() ? 0 : aim("same-idea");
}

/// Where the plan wishes for a level: how far the changes stay from it on average.
double Misfit::level_points(const GraphPath& path) const {
    const auto wished = situation_.plan.wished_level;
    if (!wished) return 0;
    int all = 0, away = 0;
    for (const auto label : effects_.changes_of(path)) {
        const auto& effect = effects_.effects()[label];
        if (effect.taken) continue;
        ++all;
        away += std::abs(effect.judged->outside - *wished);
    }
    return all == 0 ? 0 : static_cast<double>(aim("off-level")) * away / all;
}

/// Where the plan counts changes no more are asked for than the cheapest choice makes.
double Misfit::few_points(const std::vector<int>& uses) const {
    const int changes = std::accumulate(uses.begin(), uses.end(), 0);
    const int few = aim("few-changes");
    const int least = situation_.plan.plan.at_most ? std::min(few, usual_.changes) : few;
    return changes == 0 ? 0 : aim("few-points") * std::max(0, least - changes);
}

Misfit::Measure Misfit::of(const GraphPath& path, const Idea& idea) const {
    const auto uses = effects_.uses_of(path);
    auto measure = rule_measure(uses, idea, several_rules_);
    const auto sound = effects_.sound_of(path);
    const auto flow = flow_.of(sound);
    measure.points += dose_points(path) + distance_points(sound) + own_points(path) + idea_points(uses) +
                      few_points(uses) + level_points(path) + flow_points(flow) + rough_points(flow);
    measure.points += aim("stray-round") * evenness_.strays(sound);
    return measure;
}

bool Misfit::follows_from(const GraphPath& path, const std::vector<int>& sound,
                          const std::vector<int>& before) const {
    const auto& written = effects_.grid().as_written();
    bool less = true, more = true;
    for (std::size_t i = 0; i < sound.size(); ++i) {
        if (sound[i] == before[i]) continue;
        less = less && sound[i] == written[i];
        more = more && before[i] == written[i];
    }
    if (less) return true;
    int own = 0, fresh = 0;
    for (const auto label : effects_.changes_of(path)) {
        const auto& effect = effects_.effects()[label];
        own += effect.taken ? 0 : 1;
        fresh += std::any_of(effect.cells.begin(), effect.cells.end(), [&](const auto& cell) {
            return before[static_cast<std::size_t>(cell.cell)] != cell.sound;
        });
    }
    // Two that share one change of two are two versions; of three and more one is not enough.
    constexpr int few = 2;
    return fresh <= 1 && (more || own > few);
}

bool Misfit::heard_before(const GraphPath& path) const {
    const auto sound = effects_.sound_of(path);
    if (!earlier_.empty() && sound == effects_.grid().as_written()) return true;
    // A version that is nearly an earlier one is not worth another sheet; where the plan counts changes each
    // one counts.
    const int least = situation_.plan.plan.at_most ? 0 : aim("least-apart");
    return std::any_of(earlier_.begin(), earlier_.end(), [&](const auto& before) {
        const int differing = effects_.differing(sound, before);
        return differing == 0 || differing * 100 < least * effects_.grid().size() ||
               follows_from(path, sound, before);
    });
}

void Misfit::remember(const GraphPath& path) {
    const auto lead = leading_idea(ideas_, effects_.uses_of(path), stated_);
    stated_.push_back(lead.stated() ? lead.idea : ideas_.size());
    earlier_.push_back(effects_.sound_of(path));
    dose_ = dose_of(static_cast<int>(earlier_.size()), situation_.chart);
}

void Misfit::forget() {
    stated_.pop_back();
    earlier_.pop_back();
    dose_ = dose_of(static_cast<int>(earlier_.size()), situation_.chart);
}

}  // namespace relead::reharm
