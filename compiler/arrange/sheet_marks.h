// Words and marks of a sheet: rehearsal marks, tempo, what the `marks` row says, running order.
#pragma once

#include <string>
#include <vector>

#include "arrange/sheet_form.h"
#include "score/measure.h"
#include "tune/tune.h"

namespace relead::arrange {

/// Rehearsal mark with the section's title, tempo where it changes, the bar's own marks, "4×" at a
/// repeat of more than two playings. `tempo_before` null = the sheet begins here.
void add_marks(const tune::Tune& tune, const SheetBar& at, const tune::Tempo* tempo_before,
               score::Measure& measure);
/// The tempo in force from a bar on.
[[nodiscard]] const tune::Tempo& tempo_at(const tune::Tune& tune, const SheetBar& at);

/// "Head, twice · Solos (open, each soloist) · Head, last time (tag B:13-14 twice)".
[[nodiscard]] std::string running_text(const tune::Tune& tune);

/// Small words over (or under) the staff.
[[nodiscard]] score::Direction small_words(Time at, std::string text, bool above = true);

}  // namespace relead::arrange
