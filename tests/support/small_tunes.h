// Small tunes for tests of rules, and a plain reading of what their chords do. The reading knows only what a
// beginner hears: dominants that fall a fifth or a half step, iis in front of them, a blues. Tests that
// want the compiler's own analysis call analysis::analyse.
#pragma once

#include <string>
#include <vector>

#include "analysis/analysis.h"
#include "tune/tune.h"

namespace relead::testing {

/// A tune of one section A, played round: `changes` as a row ("Dm7 | G7 | Cmaj7"), further rows as
/// they stand in a tune ("melody | w A4 | w B4 | w C5 |"), then plan lines. Fails the test when it does not
/// read.
[[nodiscard]] tune::Tune small_tune(const std::string& key, const std::string& changes,
                                    const std::vector<std::string>& rows = {}, const std::string& more = "");
/// Reads a whole tune; fails the test when it has errors.
[[nodiscard]] tune::Tune read_whole(const std::string& text);

[[nodiscard]] analysis::Analysis plain_reading(const tune::Tune& tune);

}  // namespace relead::testing
