// What is found out about one chorus, chord by chord in playing order, before it is told in facts about
// the written chords.
#pragma once

#include <optional>
#include <vector>

#include "analysis/analysis.h"
#include "analysis/heard.h"

namespace relead::analysis {

struct ChorusReading {
    Chorus chorus;
    Tonality home;
    bool blues = false;
    std::optional<ModeScale> mode;  ///< of a modal home key
    bool exact = true;
    int window = 0;
    std::vector<int> hosts;    ///< chord that a satellite colours, or -1
    std::vector<int> targets;  ///< index, the number of chords for the next chorus, -1 for the final tonic
    std::vector<Relation> relations;
    std::vector<Tonality> local;
    std::vector<bool> modal, pedal, line, planing, turnaround;

    [[nodiscard]] int size() const { return static_cast<int>(chorus.chords.size()); }
    [[nodiscard]] const Heard& at(int i) const { return chorus.chords[static_cast<std::size_t>(i)]; }
    /// The next chord that is another one, or -1.
    [[nodiscard]] int next_other(int i) const;
    /// The chord before, or -1.
    [[nodiscard]] int before_run(int i) const;
};

[[nodiscard]] ChorusReading read_chorus(const Tonality& home, bool blues, Chorus chorus,
                                        const std::optional<ModeScale>& mode = std::nullopt);

}  // namespace relead::analysis
