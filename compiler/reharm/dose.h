// How much of a tune changes, and how much two versions differ: counted in half beats of what sounds. Without
// a number in the plan, costs get a weight per changed half beat, so that each version changes its share.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "rules/chart.h"
#include "rules/placement.h"

namespace relead::reharm {

/// Shares of the beats of a chorus, in percent.
struct Dose {
    int least = 15;
    int most = 25;
};
/// Of version `number` (0 = the first), as grammar/aims.txt has it; less where the chords are dense already.
[[nodiscard]] Dose dose_of(int number, const rules::Chart& chart);

/// How much of the time a version sounds unlike each earlier one, in percent; less in a dense chart too.
[[nodiscard]] double apart_of(const rules::Chart& chart);

/// Three chords in two bars and more, counted where the chord changes: whoever reads it has enough to do.
[[nodiscard]] bool is_dense(const rules::Chart& chart);

/// The written time in half beats, each with what sounds there. Sounds are numbers; equal sounds have equal
/// ones.
class SoundGrid {
public:
    explicit SoundGrid(const rules::Chart& chart);
    struct Cell {
        int cell = 0;
        int sound = 0;
    };
    /// What sounds over the time of a written spot, or of a placement.
    [[nodiscard]] std::vector<Cell> written(int spot) const;
    [[nodiscard]] std::vector<Cell> placed(const rules::Placement& placement);
    /// What sounds in every half beat as written.
    [[nodiscard]] const std::vector<int>& as_written() const { return written_; }
    /// The chord of a sound, as first met; sounds are numbered from 0.
    [[nodiscard]] const theory::Chord& chord(int sound) const {
        return chords_[static_cast<std::size_t>(sound)];
    }
    [[nodiscard]] int sounds() const { return static_cast<int>(chords_.size()); }
    [[nodiscard]] int first_cell(int spot) const { return first_cell_[static_cast<std::size_t>(spot)]; }
    /// How often a half beat is played in one chorus; 0 where only the last one comes by.
    [[nodiscard]] int plays(int cell) const { return plays_[static_cast<std::size_t>(cell)]; }
    /// All half beats of one chorus.
    [[nodiscard]] int size() const { return size_; }

private:
    int sound_of(const theory::Chord& chord);

    const rules::Chart& chart_;
    std::vector<int> first_cell_;  ///< per spot
    std::vector<int> written_;
    std::vector<int> plays_;
    std::map<std::string, int> sounds_;
    std::vector<theory::Chord> chords_;  ///< per sound
    int size_ = 0;
};

}  // namespace relead::reharm
