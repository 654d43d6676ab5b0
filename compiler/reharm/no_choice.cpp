#include "reharm/no_choice.h"

#include <algorithm>
#include <string>

#include "reharm/plan_refusals.h"
#include "text/diagnose.h"

namespace relead::reharm {
namespace {

/// Of the chords that could give way: how many the plan holds, how many are locked beside these, and all.
struct Staying {
    int held = 0, locked = 0, all = 0;
};

Staying staying(const Situation& situation) {
    const auto& hold = situation.plan.plan.hold;
    Staying chords;
    for (int i = 0; i < situation.chart.size(); ++i) {
        const auto& spot = situation.chart.at(i);
        if (spot.chord.is_none()) continue;
        const bool held = std::any_of(hold.begin(), hold.end(), [&](const tune::Address& place) {
            return covers(situation, place, i);
        });
        ++chords.all;
        chords.held += held ? 1 : 0;
        chords.locked += !held && spot.locked ? 1 : 0;
    }
    return chords;
}

/// `built`: rules find their chords, and what they write does not stay within the plan's limits.
std::string why(const Staying& chords, const std::string& plan, bool built) {
    if (chords.all == 0) return "There is no chord to change";
    if (chords.held == chords.all) return "The " + plan + " holds every chord";
    if (chords.locked == chords.all) return "Every chord is locked with !";
    if (chords.held + chords.locked == chords.all)
        return "Every chord is held by the " + plan + " or locked with !";
    if (built) return "No change that the " + plan + " allows fits anywhere";
    return "No rule that the " + plan + " uses fits anywhere";
}

}  // namespace

Diagnostics tell_no_choice(const Situation& situation, const Pool& pool,
                           const std::vector<Version>& versions) {
    const bool changes = std::any_of(versions.begin(), versions.end(),
                                     [](const Version& version) { return !version.changes.empty(); });
    if (changes) return {};
    const auto& plan = situation.plan.plan;
    const auto chords = staying(situation);
    const bool may_move = chords.held + chords.locked < chords.all;
    text::Sink sink;
    sink.emit(text::Code::no_choice, plan.span,
              why(chords, "plan \"" + plan.name + "\"", pool.built > 0) + ": the changes stay as they are." +
                  (may_move ? " relead options says at a place what keeps a rule away." : ""));
    return sink.take();
}

}  // namespace relead::reharm
