// The words of a note row: durations, notes, rests, hits; and what to say of a word that is none.
#pragma once

#include <optional>
#include <string_view>

#include "syntax/parse_cell.h"

namespace relead::syntax {

struct DurationLetters {
    int denominator = 4;
    int dots = 0;
};
/// "q", "h.", "e..": w h q e s t with up to three dots.
[[nodiscard]] std::optional<DurationLetters> read_duration(std::string_view word);
/// 'q' for 4; precondition: a value of read_duration.
[[nodiscard]] char duration_letter(int denominator);

/// "C5", "Bb4~", "r", "?"; in hits "x", "X~", "r". Kind, pitch and tie are set.
[[nodiscard]] std::optional<NoteWord> read_note(std::string_view word, bool hits);

/// Says what is wrong with a word that neither function reads, with the repair where one is near.
void complain_of_note(text::Sink& sink, std::string_view word, Span span, const CellContext& context,
                      int octave);

}  // namespace relead::syntax
