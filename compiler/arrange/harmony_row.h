// Rows of chords as a player reads them: the changes as symbols, other rows as words.
#pragma once

#include <vector>

#include "arrange/lead_sheet.h"
#include "arrange/reading.h"
#include "arrange/symbols.h"

namespace relead::arrange {

struct ReadSymbol {
    score::Harmony harmony;
    int shift = 0;  ///< fifths by which the strict spelling was moved: 0, -12 or 12
};
using SymbolRows = std::vector<std::vector<ReadSymbol>>;  ///< one row per measure

/// Written chord symbols of every measure, spelled for this player.
[[nodiscard]] SymbolRows read_symbols(const std::vector<std::vector<Symbol>>& symbols,
                                      const std::vector<KeyReading>& keys, const Reading& reading,
                                      const std::vector<ChangedChord>& changed);

/// The chords of a row outside the changes (ossia, soloist) in one measure, written, with the names that read
/// best between the written symbols before and after the measure.
[[nodiscard]] std::vector<theory::Chord> read_row(const std::vector<tune::ChordEvent>& row,
                                                  std::size_t measure, const SymbolRows& rows,
                                                  const std::vector<KeyReading>& keys,
                                                  const Reading& reading);

/// A chord outside the changes (ossia, soloist, what stood there before) as text: "D♭7".
[[nodiscard]] std::string chord_words(const theory::Chord& concert, const KeyReading& key,
                                      const Reading& reading);

/// The written chord that sounds at `at` of a measure; null before the first.
[[nodiscard]] const ReadSymbol* symbol_at(const SymbolRows& rows, std::size_t measure, Time at);

}  // namespace relead::arrange
