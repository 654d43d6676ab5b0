#include "formats/text/comparison.h"

#include <algorithm>
#include <cstddef>

#include "base/fmt.h"
#include "formats/text/columns.h"

namespace relead::formats::text {

namespace {

using report::ChangeRow;
using report::ComparedRow;
using report::Comparison;

constexpr std::string_view bold = "\033[1m";
constexpr std::string_view changed_on = "\033[1;31m";
constexpr std::string_view plain = "\033[0m";

std::string counted(int count, std::string_view noun) {
    return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string strong(const std::string& text, const TextStyle& style) {
    return style.colour ? fmt::format("{}{}{}", bold, text, plain) : text;
}

std::string sentence(std::string text) {
    if (!text.empty() && text.back() != '.') text += '.';
    return text;
}

std::string print_change(const std::vector<ChangeRow>& changes, std::size_t index, const TextStyle& style) {
    const auto& change = changes[index];
    const auto now =
        style.colour ? fmt::format("{}{}{}", changed_on, change.new_changes, plain) : change.new_changes;
    auto text = fmt::format("  {}  {} > {}\n", change.place, change.old_changes, now);
    text += wrap(fmt::format("{}, outside {}.", change.rule, change.outside), 6, style.width);
    text += print_reason(changes, index, style);
    if (!change.new_motion.empty())
        text += wrap(fmt::format("Guide tones {}; as written {}.", change.new_motion,
                                 change.old_motion.empty() ? "none" : change.old_motion),
                     6, style.width);
    return text;
}

std::string row_title(const ComparedRow& row) {
    auto text = row.name;
    if (row.soloist) text += " (for the soloist; the rhythm section stays on the written changes)";
    return text;
}

std::string melody_words(const report::MelodyCount& melody, std::size_t changes) {
    if (melody.unchecked == static_cast<int>(changes)) return "not checked";
    auto text = fmt::format("{}, {}, {} passing, {}", counted(melody.chord_tones, "chord tone"),
                            counted(melody.tensions, "tension"), melody.passing,
                            melody.clashes == 0 ? "no new clash" : counted(melody.clashes, "new clash"));
    if (melody.clashes > 1) text += "es";
    if (melody.old_clashes > 0)
        text += fmt::format(", {} that the written chord had too", counted(melody.old_clashes, "clash"));
    if (melody.unchecked > 0) text += fmt::format("; {} not checked", counted(melody.unchecked, "change"));
    return text;
}

std::string print_row_summary(const Comparison& comparison, const ComparedRow& row, const TextStyle& style) {
    const bool known = !row.search.empty() || !row.changes.empty();
    std::string head = fmt::format("{}: ", row.name);
    if (known) head += fmt::format("{}; ", counted(static_cast<int>(row.changes.size()), "change"));
    head += fmt::format("{} of {} different", row.bars_changed,
                        counted(static_cast<int>(comparison.bars.size()), "bar"));
    if (row.highest_outside > 0) head += fmt::format("; outside {} at most", row.highest_outside);
    auto text = wrap(head + ".", 0, style.width);
    text += wrap(fmt::format("Guide-tone line: {}.", report::guide_sentence(row.guide_line)), 2, style.width);
    if (!row.changes.empty())
        text +=
            wrap(fmt::format("Melody under the changes: {}.", melody_words(row.melody, row.changes.size())),
                 2, style.width);
    if (!row.search.empty()) text += wrap(fmt::format("Search: {}.", row.search), 2, style.width);
    return text;
}

std::string title_line(const Comparison& comparison) {
    auto line = fmt::format("{}, {}, {}, {}", comparison.title.empty() ? "Untitled" : comparison.title,
                            comparison.key == "open" ? "open key" : comparison.key, comparison.meter,
                            comparison.beats_per_minute);
    return comparison.feel.empty() ? line : line + " " + comparison.feel;
}

}  // namespace

std::string print_reasons(const Comparison& comparison, const TextStyle& style) {
    std::string text;
    for (std::size_t i = 1; i < comparison.rows.size(); ++i) {
        const auto& row = comparison.rows[i];
        if (row.idea.empty() && row.changes.empty()) continue;
        if (!text.empty()) text += "\n";
        text += strong(row_title(row), style) + "\n" + wrap(sentence(row.idea), 2, style.width);
        for (std::size_t c = 0; c < row.changes.size(); ++c) text += print_change(row.changes, c, style);
    }
    return text;
}

std::string print_summary(const Comparison& comparison, const TextStyle& style) {
    std::string text;
    if (!comparison.rows.empty())
        text += wrap(fmt::format("{}: guide-tone line {}.", comparison.rows[0].name,
                                 report::guide_sentence(comparison.rows[0].guide_line)),
                     0, style.width);
    for (std::size_t i = 1; i < comparison.rows.size(); ++i)
        text += print_row_summary(comparison, comparison.rows[i], style);
    for (const auto& note : comparison.notes) text += wrap("Note: " + note, 0, style.width);
    return text;
}

std::string print_comparison(const Comparison& comparison, const TextStyle& style) {
    auto title = wrap(title_line(comparison), 0, style.width);
    while (!title.empty() && title.back() == '\n') title.pop_back();
    auto text = strong(title, style) + "\n\n";
    text += print_rows(comparison, style);
    const auto reasons = print_reasons(comparison, style);
    if (!reasons.empty()) text += "\n" + reasons;
    return text + "\n" + print_summary(comparison, style);
}

}  // namespace relead::formats::text
