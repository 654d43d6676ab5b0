// The notes of every row for the page's script: numbers only.
#pragma once

#include <string>

#include "formats/html/symbol_ids.h"
#include "report/listening.h"

namespace relead::formats::html {

/// JSON with `bars`, `beats` (a minute, at the start), `grid`, `tempi` (quarters a minute from a tick on),
/// `swings`, `rows` and `symbols`. Times are ticks, 480 a quarter; a voice is a flat list of (ticks since the note before, length, key, loudness); a voice that sounds like the
/// one of an earlier row is that row's number.
[[nodiscard]] std::string sound_json(const report::Listening& page, const SymbolIds& symbols);

}  // namespace relead::formats::html
