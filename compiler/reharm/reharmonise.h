// From a tune to reharmonised versions of it. Pure: the same input gives the same versions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/outcome.h>

#include "analysis/analysis.h"
#include "reharm/version.h"
#include "rules/match.h"
#include "rules/rule.h"
#include "tune/plan.h"
#include "tune/tune.h"

namespace relead::reharm {

/// What the user asks for. What is not said here is taken from the plan, then from defaults.
struct Wish {
    std::optional<std::string> plan;  ///< a plan of the tune; absent: its first plan, else a plain one
    int versions = 1;
    std::optional<int> outside;    ///< 1..5, ceiling on every change
    std::optional<int> around;     ///< 1..5, a wish
    std::vector<std::string> use;  ///< rule or family names; empty = the plan's
    std::vector<std::string> avoid;
    std::vector<tune::Address> hold;
    std::optional<int> depth;  ///< how many rules may stand on each other
    std::string date;          ///< for the stamp, as the user gave it
    int alternatives = 64;     ///< kept per starting place
    bool by_cost = false;      ///< the versions that cost least, proved; no dose, no idea of their own
};

struct Choices {
    tune::Plan plan;                ///< the plan that was followed, wishes included
    std::vector<Version> versions;  ///< the best first; may hold a version without any change
    SearchReport report;
};

/// Unknown plans, rules and sections are errors, and then the value is absent.
[[nodiscard]] Outcome<Choices> reharmonise(const tune::Tune& tune, const analysis::Analysis& analysis,
                                           const rules::RuleSet& rules, const Wish& wish = {});

/// One thing that could stand at a spot, allowed or not.
struct Option {
    std::string rule;
    std::string title;
    int outside = 1;
    Place place;
    std::vector<theory::Chord> old_chords;
    std::vector<theory::Chord> new_chords;
    std::vector<Beats> new_beats;
    std::string reason;
    Verdict verdict;
};

/// Everything that could stand over the chords at `spot`: the allowed ones first, by cost, then the
/// refused ones with their reasons.
[[nodiscard]] Outcome<std::vector<Option>> options(const tune::Tune& tune, const analysis::Analysis& analysis,
                                                   const rules::RuleSet& rules, const tune::Address& spot,
                                                   const Wish& wish = {});

}  // namespace relead::reharm
