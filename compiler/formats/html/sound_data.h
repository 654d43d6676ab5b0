// The notes of every row for the page's script: numbers only.
#pragma once

#include <cstddef>
#include <string>

#include "formats/html/symbol_ids.h"
#include "report/listening.h"

namespace relead::formats::html {

/// JSON with `bars`, `clocks`, `rows` and `symbols`. Each row has a clock of its own: `beats` (a minute, at
/// the start), `grid`, `tempi` (quarters a minute from a tick on) and `swings`; a row that runs like an
/// earlier one has that row's number instead. Times are ticks, 480 a quarter; a voice is a flat list of
/// (ticks since the note before, length, key, loudness); one that sounds like that of an earlier row is that
/// row's number.
[[nodiscard]] std::string sound_json(const report::Listening& page, const SymbolIds& symbols);

/// Beats a minute with which a row's own tune starts.
[[nodiscard]] int own_beats(const report::Listening& page, std::size_t row);

}  // namespace relead::formats::html
