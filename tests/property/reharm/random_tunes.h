// Small tunes in which choosing well is hard: shared sections, endings, tight budgets, locks, rules that
// overlap, stack and ask for neighbours. A seed names a tune; the same seed gives the same tune.
#pragma once

#include <random>
#include <string>

#include "reharm/pool.h"
#include "rules/rule.h"

namespace relead::testing {

/// A number from 0 to sides - 1.
[[nodiscard]] unsigned roll(std::mt19937& random, unsigned sides);

/// A tune of at most 12 written bars with one plan for a band.
[[nodiscard]] std::string random_tune(std::mt19937& random);

/// Some of the built-in rules: always a few that stack, and by chance others of one to three chords.
[[nodiscard]] rules::RuleSet some_rules(std::mt19937& random);

/// Costs of their own, close to each other, and at most a few placements on each chord. What replaces several
/// chords costs less than any one of them would, but often more than all of them together.
[[nodiscard]] reharm::Pool with_random_costs(reharm::Pool pool, std::mt19937& random);

}  // namespace relead::testing
