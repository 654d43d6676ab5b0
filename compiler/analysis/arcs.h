// What it weighs that one chord of a tune leads to a later one, whatever the rest of the tree looks like.
#pragma once

#include <vector>

#include "analysis/heard.h"
#include "analysis/tree_weights.h"

namespace relead::analysis {

/// A chord that takes part in the tree.
struct TreeChord {
    const Heard* heard = nullptr;
    Role role = Role::other;
    bool on_tonic = false;   ///< stable or dominant on the root of the home key, in whatever mode
    double length = 1;       ///< in bars, its satellites included
    bool run_begins = true;  ///< the chord before it is another
    bool run_ends = true;    ///< the chord after it is another
};

/// Arc weights in sixteenths of a hundredth, so that doublings of a gap count in steps of a sixteenth.
class Arcs {
public:
    static constexpr int scale = 16;

    Arcs(const std::vector<TreeChord>& chords, const Heard& top, const TreeWeights& weights);

    /// `crossed`: the boundaries after j, up to and including the one before k, as `cross` gathers them.
    [[nodiscard]] int between(int j, int k, int crossed) const;
    /// The strongest boundary so far (Heard::level); from sixteen bars on each one counts: 5, 6, 7 ...
    [[nodiscard]] static int cross(int crossed, int level);
    /// To the top of the next chorus.
    [[nodiscard]] int to_end(int j) const;

private:
    /// What a place or a distance asks of the chord that is led to.
    enum class Goal : std::uint8_t { tonic, dominant, other };

    struct Place {
        int run = 0;             ///< which run of one and the same chord
        bool last_here = true;   ///< the last of its run within the eight bars
        int stand = 0;           ///< of its run within the eight bars: 0 opens, 1 inside, 2 closes them
        int lasts = 0;           ///< its run: 0 below one bar, 1 below two, 2 below four, 3 longer
        bool resolves = false;   ///< the next chord resolves it
        bool neighbour = false;  ///< stands between two statements of the tonic in one phrase
        bool in_line = false;    ///< with the next chord part of a line of half steps down
        Goal on_place = Goal::other;
        Goal afar = Goal::other;
    };
    void find_runs();
    void find_stands(std::size_t begin, std::size_t end);
    void find_lengths();
    [[nodiscard]] bool falls(std::size_t i) const;
    [[nodiscard]] bool is_neighbour(std::size_t i) const;
    [[nodiscard]] int relation(int row) const;
    [[nodiscard]] int same_chord_again(int j, int k, int gap, bool run) const;
    [[nodiscard]] int leaves(int j, bool next) const;
    [[nodiscard]] int at_once(int j, bool falls, bool same) const;
    [[nodiscard]] int from_afar(int j, int k, int crossed, bool same, bool run) const;

    const std::vector<TreeChord>& chords_;
    const Heard& top_;
    const TreeWeights& w_;
    std::vector<Place> places_;
};

}  // namespace relead::analysis
