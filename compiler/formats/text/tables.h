// Reports as text for a terminal: the changes of two versions one above the other, and the table
// of what was changed and why.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "report/change_table.h"
#include "report/option_table.h"
#include "report/rule_example.h"
#include "report/rule_table.h"
#include "report/side_by_side.h"

namespace relead::formats::text {

struct TextStyle {
    bool colour = false;
    int width = 100;  ///< columns
};

/// Bars stand right under each other, four a line where they fit; a line of bars in which nothing
/// changed has no second row.
/// `lower` names that row.
[[nodiscard]] std::string print_side_by_side(const std::vector<report::SectionPair>& sections,
                                             const TextStyle& style = {}, std::string_view lower = "now");

/// Place, old, new, rule, guide tones before and after; the reason stands below each row.
[[nodiscard]] std::string print_changes(const std::vector<report::ChangeRow>& rows,
                                        const TextStyle& style = {});

/// What is said of a change below its row: what sounds, why, and of the melody what is not said of all rows.
/// Where the same was said of an earlier row, its place: "As at A:3."
[[nodiscard]] std::string print_reason(const std::vector<report::ChangeRow>& rows, std::size_t index,
                                       const TextStyle& style = {});

/// Every option with its reason, guide tones, melody and cost; the refused ones with their reasons.
[[nodiscard]] std::string print_options(const std::vector<report::OptionRow>& rows,
                                        const TextStyle& style = {});

/// How long a melody note is held, where the melody was judged; `beat` in seconds.
[[nodiscard]] std::string print_held_notes(const std::vector<report::OptionRow>& rows, double beat,
                                           const TextStyle& style = {});

/// That more options are refused than are shown, and where they are listed.
[[nodiscard]] std::string print_options_left_out(const TextStyle& style = {});

/// The rules by family: name, outside level, title.
[[nodiscard]] std::string print_rules(const std::vector<report::RuleRow>& rows, const TextStyle& style = {});

/// One rule: what it is, its text, and the example at work. No example: that it fires nowhere is said.
[[nodiscard]] std::string print_rule(const report::RuleRow& row,
                                     const std::optional<report::RuleExample>& example,
                                     const TextStyle& style = {});

}  // namespace relead::formats::text
