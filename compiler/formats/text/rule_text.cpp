#include <algorithm>
#include <cstddef>

#include "base/fmt.h"
#include "formats/text/columns.h"
#include "formats/text/tables.h"
#include "text/source.h"

namespace relead::formats::text {

namespace {

std::string for_whom(const report::RuleRow& row) {
    return row.audience == "everybody" ? "band and soloist" : row.audience + " only";
}

/// A word in front, its sentences beside it.
std::string field(std::string_view name, const std::vector<std::string>& sentences, const TextStyle& style) {
    constexpr int column = 15;
    std::string text;
    for (const auto& sentence : sentences) text += wrap(sentence, column, style.width);
    if (text.empty()) return text;
    text.replace(2, name.size(), name);
    return text;
}

std::string indented(std::string_view lines) {
    std::string text;
    while (!lines.empty()) {
        const auto end = std::min(lines.find('\n'), lines.size() - 1);
        const auto line = lines.substr(0, end + 1);
        text += (line == "\n" ? "" : "  ") + std::string(line);
        lines.remove_prefix(end + 1);
    }
    return text;
}

std::string print_example(const report::RuleExample& example, const TextStyle& style) {
    const auto& change = example.change;
    auto text = fmt::format("\nIn {}{}\n", example.key, example.refusals.empty() ? "" : " (refused)");
    text += indented(print_side_by_side(example.bars, {style.colour, style.width - 2},
                                        example.for_soloist ? "solo" : "now"));
    text += fmt::format("\n  {}  {} > {}\n", change.place, change.old_changes, change.new_changes);
    text += wrap(change.reason, 4, style.width);
    if (!change.old_motion.empty())
        text += wrap(fmt::format("Guide tones before: {}.", change.old_motion), 4, style.width);
    if (!change.new_motion.empty())
        text += wrap(fmt::format("Guide tones now: {}.", change.new_motion), 4, style.width);
    for (const auto& sentence : example.refusals) text += wrap("Refused: " + sentence, 4, style.width);
    return text;
}

}  // namespace

std::string print_rules(const std::vector<report::RuleRow>& rows, const TextStyle& style) {
    int name_width = 0;
    for (const auto& row : rows) name_width = std::max(name_width, relead::text::display_width(row.name));
    std::string text = "Rules by family: name, how far outside it leads (1 to 5), title.\n";
    std::string family;
    for (const auto& row : rows) {
        if (row.family != family) text += fmt::format("\n{}\n", row.family);
        family = row.family;
        const auto whom = row.audience == "everybody" ? "" : fmt::format(" ({} only)", row.audience);
        const auto line = fmt::format("{}{}{}", row.title, whom, row.built_in ? "" : ", your own");
        auto cell = wrap(line, name_width + 7, style.width);
        cell.replace(0, static_cast<std::size_t>(name_width) + 7,
                     fmt::format("  {}  {}  ", pad(row.name, name_width), row.outside));
        text += cell;
    }
    return text;
}

std::string print_rule(const report::RuleRow& row, const std::optional<report::RuleExample>& example,
                       const TextStyle& style) {
    auto text = fmt::format("{}: {}\n", row.name, row.title);
    text += field("family", {row.family}, style);
    text += field("outside", {fmt::format("{} of 5", row.outside)}, style);
    text += field("for", {for_whom(row)}, style);
    auto threads = row.threads;
    if (threads.empty()) threads.push_back("Each goes where the next chord's guide tones are nearest.");
    text += field("guide tones", threads, style);
    text += field("source", {row.source.empty() ? "none given" : row.source}, style);
    text += fmt::format("\nFrom {}, line {}\n{}", row.file, row.line, indented(row.text));
    if (!example) return text + "\nNo small tune was found in which this rule fires.\n";
    return text + print_example(*example, style);
}

}  // namespace relead::formats::text
