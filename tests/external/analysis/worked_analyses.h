// Reads worked-analyses.txt: published analyses, chord by chord.
#pragma once

#include <string>
#include <vector>

#include "theory/key.h"
#include "tune/tune.h"

namespace relead::testing {

/// What a source says of one chord.
struct Lead {
    std::string symbol;
    std::vector<int>
        targets;  ///< any of them is right; the number of chords is the next chorus; none: the end
    bool prolongs = false;
    std::string numeral;  ///< empty where the source gives none
};

struct Study {
    std::string name, source, key;
    std::vector<std::string> changes;  ///< rows as in a tune
    std::vector<Lead> leads;

    [[nodiscard]] int size() const { return static_cast<int>(leads.size()); }
    /// One section, no melody, no form; the key only when asked for.
    [[nodiscard]] tune::Tune tune(bool with_key) const;
    [[nodiscard]] theory::Key given_key() const;
};

/// Fails the test when a row is not as the file's head says.
[[nodiscard]] std::vector<Study> read_studies();

/// No two arcs cross; a chord without target hangs on `size`, as those do that lead to the next chorus.
[[nodiscard]] bool is_projective(const std::vector<int>& targets);

}  // namespace relead::testing
