// What was found when a candidate was judged: guide tones, melody, room, locks. A verdict with a
// refusal is kept, with its sentence, for `relead options`.
#pragma once

#include <string>
#include <vector>

#include "reharm/guide_motion.h"
#include "reharm/melody_fit.h"
#include "rules/match.h"

namespace relead::reharm {

struct Refusal {
    enum class Kind {
        rule,        ///< a condition of the rule does not hold
        guide_tone,  ///< a guide tone would leap on arrival
        melody,      ///< a new clash with the melody
        locked,      ///< `!`
        held,        ///< the plan holds these bars
        never,       ///< the plan refuses it here
        not_used,    ///< the plan does not use this rule, or avoids it
        outside,     ///< further outside than the plan's ceiling
        bass,        ///< a written bass figure locks the bar against new roots
        room,        ///< the chord would be too short to play
        same,        ///< it changes nothing
        soloist,  ///< superimposed it rubs against the sounding bass, or it leaves the tune's own soloist row
    };
    Kind kind = Kind::rule;
    std::string sentence;
    rules::Objection::Kind objection =
        rules::Objection::Kind::context;  ///< what the rule misses; of `rule` only
};
[[nodiscard]] std::string_view to_string(Refusal::Kind kind);

/// A named part of a change's cost; a whole number, negative when it speaks for the change.
struct CostTerm {
    std::string name;
    int value = 0;
};

struct Verdict {
    std::vector<Refusal> refusals;
    std::vector<Motion> arrival;  ///< from the last new chord into the chord that follows
    MelodyVerdict melody;
    std::string sounding;  ///< for a soloist: what the new chords are over the bass; else empty
    std::vector<CostTerm> terms;
    int cost = 0;  ///< sum of the terms
    [[nodiscard]] bool allowed() const { return refusals.empty(); }
};

}  // namespace relead::reharm
