// How a whole version goes, reckoned from what sounds in each half beat: where its new chords meet what
// stayed, which root moves are new, how melody and bass move together. Costs price one boundary at a time;
// these are shares of a version, which no price of a boundary can promise.
#pragma once

#include <array>
#include <vector>

#include "reharm/dose.h"
#include "reharm/judge.h"

namespace relead::reharm {

/// So many of so many.
struct Tally {
    int good = 0;
    int all = 0;
    /// In percent; 100 of nothing.
    [[nodiscard]] double percent() const { return all == 0 ? 100.0 : 100.0 * good / all; }
};

struct Flow {
    Tally joints;        ///< guide tones that hold or step between a new and a written chord
    Tally roots;         ///< new root moves that fall a fifth or go by step
    Tally outer;         ///< moves between strong beats where melody and bass do not go the same way; on the
                         ///< bass where they do so least
    Tally symbols;       ///< new symbols of at most four characters, each root one letter
    int root_moves = 0;  ///< from one root to another over the whole chorus
    int semitones = 0;   ///< that guide tones move at these
    int parallels = 0;   ///< three octaves or fifths in a row on strong beats, both voices moving
};

class ChorusFlow {
public:
    /// All sounds must be known to the grid; it and the situation must outlive this.
    ChorusFlow(const Situation& situation, const SoundGrid& grid);
    /// Of one chorus in which `sound` sounds in each cell of the grid.
    [[nodiscard]] Flow of(const std::vector<int>& sound) const;
    [[nodiscard]] const Flow& as_written() const { return written_; }

private:
    struct Step {
        int cell = 0;
        bool strong = false;
        int midi = -1;  ///< melody note on a strong beat; -1 = rest or unknown
    };
    /// What matters of a sound.
    struct Tone {
        int root = 0;  ///< pitch class that is heard as the root
        int bass = 0;
        bool none = false;
        bool short_symbol = true;
    };
    /// The same bass line on basses whose lowest string lies elsewhere: it turns back at other places.
    static constexpr std::size_t registers = 3;
    using Basses = std::array<int, registers>;
    /// A chord as long as nothing else sounds.
    struct Moment {
        int sound = 0;
        bool fresh = false;     ///< something else is written where it starts
        bool new_root = false;  ///< another root is written there
        Basses bass = {};       ///< MIDI numbers
    };
    struct Outer {
        int midi = -1;
        Basses bass = {};
        friend bool operator==(const Outer&, const Outer&) = default;
    };
    void add_steps(const Situation& situation, const rules::Spot& spot, int first_cell);
    void count_move(const Moment& from, const Moment& to, Flow& flow) const;
    static Basses bass_after(Basses here, int goal, int tonic);
    static void count_outer(const std::vector<Outer>& voices, std::size_t in, Flow& flow);
    /// How guide tones move from one sound into another.
    struct Motion {
        signed char stepwise = 0;  ///< so many of the two hold or step
        signed char sum = 0;       ///< semitones
        bool known = false;        ///< worked out
        bool none = true;          ///< one of the two has no guide tones
    };
    [[nodiscard]] const Motion& motion(int from, int to) const;

    const SoundGrid& grid_;
    int tonic_;  ///< MIDI number, where the bass begins
    std::vector<Step> steps_;
    std::vector<Tone> tones_;              ///< per sound
    mutable std::vector<Motion> motions_;  ///< remembered per pair of sounds
    Flow written_;
};

}  // namespace relead::reharm
