// Whether a version treats the rounds of a vamp or a sequence alike. One round that is changed among others
// that are not sounds like a mistake, and so does one that is left out.
#pragma once

#include <vector>

#include "reharm/choice_effects.h"
#include "rules/rounds.h"

namespace relead::reharm {

/// How many rounds are not treated as most of them are: `treatments` has a number per round, equal ones for
/// the same treatment, `any_treatment` for a round that may be as it is. None where all are treated alike, or
/// in turns (A B A B, A A B B, and every fourth one), each turn twice at least; the last round may lead on,
/// whatever the others do. A sequence of three may take turns too: A7 A♭7 G7 for A7 D7 G7. Common practice,
/// no source.
[[nodiscard]] int stray_rounds(const std::vector<int>& treatments, bool sequence);
constexpr int any_treatment = -1;

class Evenness {
public:
    /// All sounds must be known to the grid, which must outlive this. A round where the plan holds something,
    /// where a chord is locked or a soloist's own row is written, may be as it is.
    Evenness(const Situation& situation, const SoundGrid& grid);
    /// What the plan takes may be as it is too.
    Evenness(const Situation& situation, const ChoiceEffects& effects);
    /// Stray rounds of all runs, when `sound` sounds in each cell of the grid. Rounds are treated alike where
    /// the same roots over the same basses sound in the same rhythm, as far from what is written, in the same
    /// classes of chord: colours on them may differ, as the melody asks.
    [[nodiscard]] int strays(const std::vector<int>& sound) const;
    [[nodiscard]] const std::vector<rules::Rounds>& runs() const { return runs_; }
    /// Whether a round is measured at all.
    [[nodiscard]] bool is_free(int run, int round) const {
        return free_[static_cast<std::size_t>(run)][static_cast<std::size_t>(round)];
    }
    struct At {
        int run = -1;  ///< -1 = in none
        int round = 0;
    };
    /// The round in which a written spot lies.
    [[nodiscard]] At at(int spot) const { return at_[static_cast<std::size_t>(spot)]; }

private:
    void settle(const rules::Placement& placement);
    /// What matters of a sound.
    struct Tone {
        int root = 0, bass = 0;
        theory::ChordClass kind = theory::ChordClass::none;
    };
    [[nodiscard]] bool alike(const std::vector<int>& sound, const rules::Rounds& run, int a, int b) const;
    [[nodiscard]] bool same(int a, int b, int up) const;

    const SoundGrid& grid_;
    std::vector<rules::Rounds> runs_;
    std::vector<At> at_;                   ///< per spot
    std::vector<std::vector<bool>> free_;  ///< per run and round: nothing there is settled beforehand
    std::vector<Tone> tones_;              ///< per sound
};

}  // namespace relead::reharm
