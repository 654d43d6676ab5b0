// What every chord of a tune does: local key, numeral, function, and the chord that it leads to.
// Pure: the same tune gives the same analysis, and in all twelve keys the same one transposed.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "theory/key.h"
#include "tune/tune.h"

namespace relead::analysis {

enum class Function : std::uint8_t {
    tonic,
    predominant,          ///< ii, IV and their relatives, related ii included
    dominant,             ///< V of the local tonic or of its target (secondary, extended)
    substitute_dominant,  ///< bII7 of its target
    backdoor,             ///< bVII7 to the home tonic
    passing_diminished,
    auxiliary_diminished,
    borrowed,  ///< from the parallel mode, without dominant function
    modal,     ///< inside a static or modal stretch
    other,
};
[[nodiscard]] std::string_view to_string(Function function);

enum class Relation : std::uint8_t { prepares, prolongs };
[[nodiscard]] std::string_view to_string(Relation relation);

struct ChordFact {
    tune::ChordRef ref;     ///< the written chord
    theory::Key local_key;  ///< tonic and mode that it is heard in
    std::string numeral;    ///< against the local tonic's major scale
    Function function = Function::other;
    /// Index into Analysis::chords of the chord that it depends on; Analysis::chords.size() is the
    /// first chord of the next chorus; nothing for the tune's final tonic. Chords that only the last chorus
    /// plays are told as it leads to its end; nothing for its last chord. The target comes later in playing
    /// order: an index that is not above the chord's own is that chord when it is played next, unless
    /// `colours_earlier`.
    std::optional<int> target;
    Relation relation = Relation::prepares;
    /// The target stands before it in the same playing, and this chord is a shade of it: a moving voice,
    /// a common-tone diminished chord, a bar written again.
    bool colours_earlier = false;
    int applied_to = -1;  ///< for dominants and iis: index of the chord whose dominant it is/serves, or -1
    bool related_ii = false;  ///< ii of the dominant that follows
    bool in_modal_stretch = false;
    bool blues_tonic = false;   ///< I7 or IV7 of a blues: a tonic, not a dominant
    bool over_pedal = false;    ///< under different chords the same bass goes on
    bool deceptive = false;     ///< a dominant that goes elsewhere than it leads to expect (V7 vi, V7 bVI)
    bool common_tone = false;   ///< a diminished chord that holds the root of the chord it colours
    bool line_cliche = false;   ///< one chord whose inner voice moves by half steps
    bool planing = false;       ///< one sound moved along by equal steps
    bool turnaround = false;    ///< leads back to the top from the last two bars of a part
    std::vector<int> playings;  ///< positions among the chords of one chorus in playing order, N.C. left out
};

struct Analysis {
    std::optional<theory::Key> given;  ///< header's key
    theory::Key estimated;             ///< never looks at the header
    theory::Key home;                  ///< given where there is one, else estimated
    std::vector<ChordFact> chords;     ///< one per written chord, in the order of the text
    bool exact = true;                 ///< false: windowed decoding of a very long tune
    int window = 0;
};

[[nodiscard]] Analysis analyse(const tune::Tune& tune);
/// The home key from the chords alone.
[[nodiscard]] theory::Key estimate_key(const tune::Tune& tune);

}  // namespace relead::analysis
