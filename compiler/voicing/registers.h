// Registers of inner voices and what a guide-tone line pays for: grammar/registers.txt and
// grammar/guide-line.txt.
#pragma once

#include <optional>
#include <string_view>

namespace relead::voicing {

/// Sounding MIDI numbers, both included.
struct Register {
    int low = 48;
    int high = 72;
    friend bool operator==(const Register&, const Register&) = default;
};
/// A row of grammar/registers.txt; nothing when it has none of that name.
[[nodiscard]] std::optional<Register> find_register(std::string_view name);

/// Where a guide-tone line lies and what it pays for; see grammar/guide-line.txt.
struct GuideLineWeights {
    Register where;
    int motion = 0;  ///< for each semitone of a voice
    int drift = 0;   ///< for each half semitone beyond `free`, once a chord
    int free = 0;    ///< semitones
    int widest = 0;  ///< semitones between the two voices
};
[[nodiscard]] GuideLineWeights guide_line_weights();

}  // namespace relead::voicing
