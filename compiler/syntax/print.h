// Pieces of the canonical text of a tune: what stands on one line or in one cell. Whole texts are made
// by tidy.h, and dump.h shows trees with the same words.
#pragma once

#include <string>

#include "syntax/tune_tree.h"

namespace relead::syntax {

[[nodiscard]] std::string print(const ChordWord& word);
/// A note with all its signs: "q [3:2 ({D5} C5~".
[[nodiscard]] std::string print(const NoteWord& note);
[[nodiscard]] std::string print(const LyricWord& word);
[[nodiscard]] std::string print(const MarkWord& mark);
/// The cell without bar signs and endings; "." when it is empty.
[[nodiscard]] std::string print_cell(const Cell& cell);
/// Between two cells of a `changes` row: "|", "] [2,3", ":|*3 |:". Null: the row begins or ends there.
[[nodiscard]] std::string print_signs(const Cell* before, const Cell* after);

[[nodiscard]] std::string print(const Address& address);
[[nodiscard]] std::string print(const KeyLine& line);
[[nodiscard]] std::string print(const MeterLine& line);
[[nodiscard]] std::string print(const TempoLine& line);
[[nodiscard]] std::string print(const FormLine& line);
[[nodiscard]] std::string print(const RunningItem& item);
[[nodiscard]] std::string print(const RunningLine& line);
[[nodiscard]] std::string print(const PlanLine& line);
/// `plan "mild" for band on head`; `on all` is left out.
[[nodiscard]] std::string print_head(const Plan& plan);

}  // namespace relead::syntax
