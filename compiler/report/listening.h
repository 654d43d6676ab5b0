// What a listening page holds, free of its format: the comparison, the heights at which its guide-tone
// threads run, every symbol as each kind of instrument reads it, and what each row sounds like.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "report/comparison.h"
#include "score/performance.h"
#include "theory/instrument.h"

namespace relead::report {

/// A chord symbol in the pieces in which it is lettered: "B♭", "maj7", "D".
struct SymbolPieces {
    std::string root;
    std::string suffix;
    std::string bass;  ///< "" = none
    friend bool operator==(const SymbolPieces&, const SymbolPieces&) = default;
};

/// Instruments that read the same names: all that transpose by the same note name.
struct Reader {
    const theory::Instrument* instrument = nullptr;  ///< one that stands for them
    std::vector<std::string> names;                  ///< "Alto Sax", "Baritone Sax"
};

/// One guide tone as a point of a thread; heights are semitones, 60 = middle C.
struct ThreadPoint {
    std::string name;
    int height = 60;
    int goes_to = 60;   ///< height at which the thread arrives at the next chord
    bool goes = false;  ///< false before N.C. and at the end
    std::string move;   ///< "held", "step", "skip", "leap"
};

struct ListenedChord {
    std::vector<SymbolPieces> symbols;  ///< as many as readers
    std::vector<ThreadPoint> threads;   ///< none, or the lower and the upper voice
};

/// A stretch that can be repeated: bars [first, last] of the comparison.
struct Stretch {
    std::string label;  ///< "A", "A, 2nd time"
    int first = 0;
    int last = 0;
};

struct Listening {
    Comparison comparison;
    std::vector<Reader> readers;                                  ///< concert first
    std::vector<std::vector<std::vector<ListenedChord>>> chords;  ///< [bar][row][chord]
    std::vector<score::Performance> performances;                 ///< one chorus of each row; may be empty
    std::vector<Stretch> stretches;
};

/// `key` is the tune's concert key, from which every reader's spelling is worked out.
[[nodiscard]] Listening listening(Comparison comparison, const theory::Key& key,
                                  std::vector<score::Performance> performances);

/// "B♭maj7/D" in pieces; N.C. has only a root.
[[nodiscard]] SymbolPieces symbol_pieces(const theory::Chord& chord);

}  // namespace relead::report
