// How the guide tones of one chord move into the next. Works on pitch classes: the printed line, with
// octaves, is drawn elsewhere.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "theory/chord.h"

namespace relead::theory {

/// Size of a move, as players say it.
enum class Move { held, step, skip, leap };  // 0; 1-2; 3-4; 5-6 semitones
[[nodiscard]] Move move_of(int semitones);
/// "held", "step", "skip", "leap".
[[nodiscard]] std::string_view to_string(Move move);

/// One guide tone of X and where it lands in Y.
struct Landing {
    Degree from;        ///< degree of X
    Degree to;          ///< degree of Y
    int semitones = 0;  ///< signed, -5..6: the nearest way
    friend bool operator==(const Landing&, const Landing&) = default;
};

struct GuideMotion {
    Landing third;                      ///< of the tone in the third's role of X
    Landing seventh;                    ///< of the tone in the seventh's role of X
    [[nodiscard]] int sum() const;      ///< of the absolute semitones
    [[nodiscard]] int largest() const;  ///< of the absolute semitones
    friend bool operator==(const GuideMotion&, const GuideMotion&) = default;
};

/// The one-to-one pairing of X's guide tones with Y's of least sum, then least maximum, of semitone
/// steps; on a tie the roles change (3 to 7, 7 to 3) as in a ii-V, then a triad's earlier choice wins.
/// A triad offers its 3 with 1 or with 5. Nothing when one of the two is N.C.
[[nodiscard]] std::optional<GuideMotion> guide_motion(const Chord& x, const Chord& y);

/// A landing that a rule declares: the guide tone of X in the role `from` (3 or 7) lands on one of
/// `to`, given as degree numbers of Y: "7>7|6|5" is {7, {7, 6, 5}}. The first that a whole step reaches
/// counts, else the first that sounds in Y.
struct Thread {
    int from = 3;
    std::vector<int> to;
};
/// The motion with declared landings. 3 stands for the tone in the third's role of X and of Y, 7 for
/// that in the seventh's where Y has a seventh or is a triad (then 1 or 5); other numbers are looked
/// for among Y's degrees (5, 6, 9). A role without a thread takes the guide tone of Y that is left.
/// Nothing when no landing exists.
[[nodiscard]] std::optional<GuideMotion> guide_motion(const Chord& x, const Chord& y,
                                                      std::span<const Thread> threads);

/// Signed way from one pitch class to another, -5..6 semitones.
[[nodiscard]] int nearest_way(int from, int to);

}  // namespace relead::theory
