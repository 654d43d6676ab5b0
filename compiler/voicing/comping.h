// What a pianist's hands play under a soloist: three or four notes to a chord, mostly without the root,
// moving as little as they can. Shapes are grammar/comping-voicings.txt, how low intervals may lie is
// grammar/interval-limits.txt, the register is the piano's comfortable range in grammar/instruments.txt.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "theory/chord.h"
#include "theory/key.h"
#include "voicing/comping_family.h"

namespace relead::voicing {

/// A chord and what decides which colours it may take.
struct ChordToVoice {
    theory::Chord chord;
    std::optional<theory::Key> key;  ///< the key around it; nothing = every available colour is welcome
    unsigned melody = 0;             ///< pitch classes that the melody sounds over it, bit 0 = C
};

struct Voicing {
    std::vector<int> keys;                ///< sounding, 60 = middle C, ascending
    std::vector<theory::Degree> degrees;  ///< of each key; of an upper structure too
    int cost = 0;                         ///< of the shape alone, in semitones
};

/// Register of the comping hand: E3 to C5.
struct CompingRange {
    int low = 52;
    int high = 72;
};
[[nodiscard]] CompingRange comping_range();

/// Every voicing of the chord in the register, best shapes first; none for N.C. A colour that the symbol
/// does not have (9, 13) is added only where the chord has room for it, the key has the note (or the root
/// itself is foreign to the key) and no melody note lies a half step beside it. No two notes lie a minor
/// ninth apart but root and b9 of a dominant. An upper structure lies over third and seventh: five notes.
[[nodiscard]] std::vector<Voicing> comping_voicings(const ChordToVoice& chord, CompingRange range);

/// Semitones that the hands move from one voicing to the next: each voice to the one of its place, a
/// voice more or less to its nearest neighbour.
[[nodiscard]] int movement(const Voicing& from, const Voicing& to);

/// What a voicing costs where it stands: its shape, and the semitones that its middle lies further than a
/// third from middle C.
[[nodiscard]] int standing_cost(const Voicing& voicing);
/// What going on to the next one costs: movement, the top voice's leap of a fourth or more once again, three
/// for each voice that comes or goes.
[[nodiscard]] int leading_cost(const Voicing& from, const Voicing& to);

/// One voicing for each chord, chosen together: the least sum of these costs over the whole row.
/// N.C. gets an empty one, and the voicing after it starts from the one before.
[[nodiscard]] std::vector<Voicing> comping(std::span<const ChordToVoice> chords);

/// The lowest key that the lower of two neighbouring notes may be; 0 where nothing limits it.
[[nodiscard]] int lowest_for_interval(int semitones);

}  // namespace relead::voicing
