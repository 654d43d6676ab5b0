// Rows of chords and lines as text, for the tests of inner voices.
#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "support/catch.h"
#include "theory/chord.h"
#include "voicing/guide_line.h"

namespace relead::testing {

/// "Dm7 G7 Cmaj7".
inline std::vector<theory::Chord> chords_of(const std::string& words) {
    std::vector<theory::Chord> chords;
    std::istringstream stream(words);
    for (std::string word; stream >> word;) {
        const auto reading = theory::parse_chord(word);
        INFO(word);
        REQUIRE(reading.chord);
        chords.push_back(*reading.chord);
    }
    return chords;
}

inline std::string voice_text(const voicing::GuideLine& line, bool upper) {
    std::string text;
    for (const auto& pair : line.pairs) {
        if (!text.empty()) text += ' ';
        text += pair ? theory::to_string(upper ? pair->upper.pitch : pair->lower.pitch) : "-";
    }
    return text;
}

}  // namespace relead::testing
