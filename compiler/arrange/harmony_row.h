// Rows of chords as a player reads them: the changes as symbols, other rows as words.
#pragma once

#include <vector>

#include "arrange/lead_sheet.h"
#include "arrange/reading.h"
#include "arrange/symbols.h"

namespace relead::arrange {

/// Written chord symbols of every measure, spelled for this player.
[[nodiscard]] std::vector<std::vector<score::Harmony>> read_symbols(
    const std::vector<std::vector<Symbol>>& symbols, const std::vector<KeyReading>& keys,
    const Reading& reading, const std::vector<ChangedChord>& changed);

/// A chord outside the changes (ossia, soloist, what stood there before) as text: "D♭7".
[[nodiscard]] std::string chord_words(const theory::Chord& concert, const KeyReading& key,
                                      const Reading& reading);

/// The written chord that sounds at `at` of a measure; null before the first.
[[nodiscard]] const score::Harmony* harmony_at(const std::vector<std::vector<score::Harmony>>& rows,
                                               std::size_t measure, Time at);

}  // namespace relead::arrange
