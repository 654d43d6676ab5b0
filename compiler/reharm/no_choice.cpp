#include "reharm/no_choice.h"

#include <algorithm>

#include "reharm/plan_refusals.h"
#include "text/diagnose.h"

namespace relead::reharm {
namespace {

/// Every chord that could give way is held by the plan or locked.
bool all_stay(const Situation& situation) {
    const auto& hold = situation.plan.plan.hold;
    for (int i = 0; i < situation.chart.size(); ++i) {
        const auto& spot = situation.chart.at(i);
        const bool held = std::any_of(hold.begin(), hold.end(), [&](const tune::Address& place) {
            return covers(situation, place, i);
        });
        if (!held && !spot.locked && !spot.chord.is_none()) return false;
    }
    return true;
}

}  // namespace

Diagnostics tell_no_choice(const Situation& situation, const Pool& pool) {
    text::Sink sink;
    const auto name = "The plan \"" + situation.plan.plan.name + "\"";
    if (pool.built > 0) return {};
    if (all_stay(situation)) {
        const bool holds = !situation.plan.plan.hold.empty();
        sink.emit(text::Code::no_choice, situation.plan.plan.span,
                  (holds ? name + " holds every chord" : std::string("Every chord is locked with !")) +
                      ": the changes stay as they are.");
    } else {
        sink.emit(
            text::Code::no_choice, situation.plan.plan.span,
            "No rule that " + ("the" + name.substr(3)) +
                " uses fits anywhere: the changes stay as they are. relead options says at a place what "
                "keeps a rule away.");
    }
    return sink.take();
}

}  // namespace relead::reharm
