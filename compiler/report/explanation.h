// What every chord of a tune does, as neutral rows for any output.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include <relead/outcome.h>

#include "analysis/analysis.h"
#include "report/guide_line.h"
#include "tune/tune.h"

namespace relead::report {

/// One chord as written; a bar written `%` has none.
struct ExplainedChord {
    int index = 0;
    std::string section;
    int bar = 0;  ///< number within its section; 0 for a pickup
    Beats beat = 1;
    std::string symbol;
    std::string key;       ///< "F major"
    std::string numeral;   ///< "V7/ii"
    std::string function;  ///< "dominant"
    /// Index of the chord that it depends on; the number of chords = the first chord of the next chorus;
    /// nothing for the tune's final tonic. Not above `index`: that chord when it is played next, unless
    /// `back`.
    std::optional<int> target;
    std::string relation;  ///< "prepares" or "prolongs"
    bool back = false;     ///< the target stands before it: it prolongs a chord that has sounded
    std::vector<std::string> guide_tones;  ///< lower and upper, sounding: "B3", "F4"; empty for N.C.
    std::vector<std::string> notes;        ///< "related ii", "turnaround", "over a pedal"
};

/// A thing recognised in the changes: one chord, or a stretch of chords that make it together.
struct Recognised {
    std::string what;  ///< "turnaround", "related ii of D7", "passing diminished"
    int first = 0;     ///< index of its first chord
    int last = 0;      ///< index of its last chord
    bool stretch = false;
};

struct Explanation {
    std::optional<std::string> given;  ///< the key that the header states
    std::string estimated;             ///< major or minor; never looks at the header
    bool modal = false;  ///< the header states a mode that the ear for major and minor cannot confirm
    bool blues = false;  ///< the home key is a blues
    std::vector<ExplainedChord> chords;
    std::vector<Recognised> recognised;  ///< in reading order: by first chord, the longer first
    bool exact = true;
    int window = 0;  ///< chords, when not exact
    GuideCounts guide_line;
};

[[nodiscard]] Explanation explain(const tune::Tune& tune, const analysis::Analysis& analysis);

}  // namespace relead::report
